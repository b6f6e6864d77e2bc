// What every sheet is made from: the documents at one moment, the kit of tonight, the paper, and what was measured.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import type { Peak } from '@glowchart/shared/paper/house.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import type { Contact } from './preferences.ts'
import type { PaperSize } from './size.ts'

export interface PaperContext {
  readonly rig: Rig
  readonly show: Show
  readonly kit: Kit
  readonly size: PaperSize
  readonly contact: Contact
  /** By box, over all songs; null while they are measured. */
  readonly peaks: Readonly<Record<string, Peak>> | null
  /** On flashing light, song by song. */
  readonly flashes: readonly Advice[]
}

/** Band, and where and when it plays, for the head of a sheet. */
export const headWords = ({ show, contact }: PaperContext): [string, string] => [
  show.name,
  [contact.venue, contact.date].filter(Boolean).join(', '),
]
