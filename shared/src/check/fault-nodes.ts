// What the fault tree is made of: questions with their answers, and remedies that each branch ends in.

import type { ColourOrder } from '../rig/channels.ts'
import type { Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import type { Raise } from './raise.ts'
import type { Group, Station } from './stations.ts'

/** What is known when a light fails. */
export interface Sight {
  readonly rig: Rig
  readonly kit: Kit
  readonly groups: readonly Group[]
  readonly station: Station
  /** What was raised. */
  readonly raise: Raise
}

export interface Question {
  readonly kind: 'question'
  readonly asks: string
  /** More to know before answering: one sentence each. */
  readonly knows?: readonly string[]
  /** The box whose address switches are to be drawn beside it. */
  readonly switches?: string
  /** What must be raised for the question, where it is not what was. */
  readonly raise?: Raise
  readonly answers: readonly Answer[]
}

interface Answer {
  readonly id: string
  readonly says: string
  readonly next: () => FaultNode
}

/** A change of tonight's kit that makes the page right again where the stage may stay as it is. */
export type Offer =
  | { does: 'swap'; order: ColourOrder; says: string }
  /** The two fixtures change sockets, on paper. */
  | { does: 'exchange'; with: string; says: string }
  /** The parts play on what is left without the station's box. */
  | { does: 'withoutBox'; says: string }

export interface Remedy {
  readonly kind: 'remedy'
  /** The cause, in one sentence without its full stop. */
  readonly finds: string
  readonly steps: readonly string[]
  /** What stays written against the fixture's serial until it is mended; null where the fixture is not at fault. */
  readonly fault: string | null
  readonly offer: Offer | null
}

export type FaultNode = Question | Remedy

/** The rig's socket of a station; undefined for a guest. */
export const socketOf = ({ rig, station }: Sight) =>
  station.box === null ? undefined : rig.boxes[station.box]?.sockets.find(({ id }) => id === station.socket)

/** “Box B, socket 3”; “Guest, 1/65”. */
export const plugText = ({ box, boxName, label, universe, slots }: Station): string =>
  box === null ? `${boxName}, ${universe}/${slots.first}` : `${boxName}, socket ${label}`
