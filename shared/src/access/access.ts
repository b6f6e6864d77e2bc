// Others on the network, as the laptop's own page sees and steers them.

import { z } from 'zod'
import type { LocalInterface } from '../network/ipv4.ts'
import { type GuestRole, guestRoles } from './role.ts'

/** The longest name of a guest, characters. */
export const MOST_NAME = 40

const guest = z.string().max(40)

/** What the laptop's own page asks for. */
export const accessWishSchema = z.discriminatedUnion('do', [
  /** Listens at one of this computer's addresses too, with a fresh PIN; whoever had joined has to join again. */
  z.object({ do: z.literal('open'), address: z.ipv4() }),
  /** Loopback only, as from the start; guests are cut off. */
  z.object({ do: z.literal('close') }),
  /** Another PIN; whoever had joined has to join again. */
  z.object({ do: z.literal('pin') }),
  /** Gives a guest more, or takes it back; at once. */
  z.object({ do: z.literal('role'), guest, role: z.enum(guestRoles) }),
  /** Ends a guest's session. */
  z.object({ do: z.literal('dismiss'), guest }),
])
export type AccessWish = z.infer<typeof accessWishSchema>

/** What a guest sends to join. The PIN may be typed with spaces. */
export const joinSchema = z.object({
  pin: z.string().max(40),
  name: z.string().trim().min(1).max(MOST_NAME),
})

export interface AccessState {
  /** Where guests come in; null: loopback only. */
  readonly open: {
    readonly address: string
    /** What a guest opens; without the PIN. */
    readonly url: string
    /** Why it does not listen there now, in plain words; empty when it does. */
    readonly says: string
  } | null
  /** Null when only its hash is known: it was made before the app was last started. */
  readonly pin: string | null
  /** Why the last change would not outlast a restart; empty when it would. */
  readonly unsaved: string
  /** This computer's IPv4 addresses that others may reach. */
  readonly interfaces: readonly LocalInterface[]
  /** In the order they joined. */
  readonly guests: readonly GuestEntry[]
}

export interface GuestEntry {
  readonly id: string
  readonly name: string
  readonly role: GuestRole
  /** IPv4 address from which they joined. */
  readonly address: string
  /** Pages of theirs that are connected. */
  readonly pages: number
}
