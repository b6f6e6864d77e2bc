// What a page is told of the second laptop, and what it may ask for.

import { z } from 'zod'
import type { Comparison } from './beat.ts'

export const understudyRequestSchema = z.discriminatedUnion('do', [
  /** Opens the port at a local address, and shows a code; or closes it. */
  z.object({ do: z.literal('allow'), on: z.boolean(), via: z.ipv4().optional() }),
  /** A new code, for the page that asks. */
  z.object({ do: z.literal('code') }),
  /** Listens for laptops that may be followed, for a minute. */
  z.object({ do: z.literal('search'), on: z.boolean() }),
  z.object({
    do: z.literal('follow'),
    address: z.ipv4(),
    port: z.int().min(1).max(65535).optional(),
    code: z.string().max(40),
  }),
  z.object({ do: z.literal('takeOver') }),
  /** Lets the one that follows take over. */
  z.object({ do: z.literal('handOver') }),
  /** Forgets the partner. */
  z.object({ do: z.literal('part') }),
])
export type UnderstudyRequest = z.infer<typeof understudyRequestSchema>

export interface FoundLaptop {
  readonly id: string
  readonly name: string
  readonly address: string
  readonly port: number
}

export interface UnderstudyStatus {
  /** `open`: may be followed, and is not; `leads`, `follows`: paired. */
  readonly state: 'off' | 'open' | 'leads' | 'follows'
  /** Where the port is open. */
  readonly via: string | null
  /** Until when the code counts, ms of the machine's monotonic clock; null: there is none. */
  readonly codeUntil: number | null
  readonly partner: {
    readonly name: string
    readonly address: string
    /** Ms since it was heard; null: not since this engine began. */
    readonly heard: number | null
    /** The one that follows could take over now. */
    readonly ready: boolean
  } | null
  readonly compared: Comparison | null
  /** Ms there and back. */
  readonly trip: number | null
  /** SHA-256 of what is played here, and there; empty while unknown. */
  readonly content: string
  readonly theirContent: string
  /** While it searches: what it has found. */
  readonly found: readonly FoundLaptop[] | null
  /** How it is in one line. */
  readonly well: 'good' | 'heed' | 'stop'
  readonly says: string
}

export const noUnderstudy: UnderstudyStatus = {
  state: 'off',
  via: null,
  codeUntil: null,
  partner: null,
  compared: null,
  trip: null,
  content: '',
  theirContent: '',
  found: null,
  well: 'good',
  says: '',
}
