// Where the house's own desk is heard, and which slots of it are its blackout and its master.

import { z } from 'zod'
import { portAddressText } from '../network/port-address.ts'
import { address, universe } from './fields.ts'
import type { Route } from './output.ts'

/** It stands with the venue of a kit, because it is the house's: another house sends on another universe, or not at all. */
export const houseInputSchema = z.object({
  from: z.discriminatedUnion('protocol', [
    z.object({
      protocol: z.literal('sacn'),
      universe,
      /** E1.31-2018 9.1.1 fixes 5568 for multicast; a unicast sender may be told another. */
      port: z.int().min(1024).max(65535).default(5568),
    }),
    /** Heard at UDP 6454, where nodes answer too (Art-Net 4). */
    z.object({ protocol: z.literal('artnet'), portAddress: z.int().min(0).max(32767) }),
  ]),
  /** Slot that darkens everything from 128 on; left out: none. */
  blackout: address.optional(),
  /** Slot whose 0…255 is the house's master, a level in L* as ours is; left out: none. */
  master: address.optional(),
})
export type HouseInput = z.infer<typeof houseInputSchema>

/** "sACN universe 7", "Art-Net 0:4:1" */
export const housePlace = ({ from }: HouseInput): string =>
  from.protocol === 'sacn' ? `sACN universe ${from.universe}` : `Art-Net ${portAddressText(from.portAddress)}`

/** The show's own light is sent where the house is listened for: one could be taken for the other, and nodes get both. */
export const sharesUniverse = ({ from }: HouseInput, routes: readonly Route[]): boolean =>
  routes.some(({ to }) =>
    from.protocol === 'sacn'
      ? to.protocol === 'sacn' && to.wireUniverse === from.universe && to.port === from.port
      : to.protocol === 'artnet' && to.portAddress === from.portAddress,
  )

/** What to do about it. */
export const SHARES_REMEDY =
  'Let the house send on a universe of its own, and choose that at tonight’s venue, or send the show’s light on another.'
