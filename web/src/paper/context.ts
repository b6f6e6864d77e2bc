// What every sheet is made from: the documents at one moment, the kit of tonight, the paper, and what was measured.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import type { Brightest } from '../rig/peaks/brightest.ts'
import type { Contact } from './preferences.ts'
import type { PaperSize } from './size.ts'

export interface PaperContext {
  readonly rig: Rig
  readonly show: Show
  readonly kit: Kit
  readonly size: PaperSize
  readonly contact: Contact
  /** By box, over all songs; null while they are measured. */
  readonly peaks: Readonly<Record<string, Brightest>> | null
  /** On flashing light, by tonight's songs in their order; null while the songs are read. */
  readonly flashes: readonly Advice[] | null
}

/** Band, and where and when it plays (or the rig's name), for the head of a sheet. */
export const headWords = ({ rig, show, contact }: PaperContext): [string, string] => [
  show.name,
  [contact.venue, contact.date].filter(Boolean).join(', ') || rig.name,
]
