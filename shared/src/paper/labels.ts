// Labels to cut out: one a box, and one for each end of every cable that is out.

import type { Rig } from '../rig/schema.ts'
import { dialsOf, switchesOf } from '../rig/switches.ts'
import type { Kit } from '../show/schema.ts'
import { patchSheet } from './patch-sheet.ts'
import { metresText, tapeWord, wireText } from './words.ts'

export interface BoxLabel {
  readonly badge: string
  readonly name: string
  readonly universe: number
  readonly address: number
  /** “1–24”. */
  readonly addresses: string
  /** The nine switches by each way of counting; null where they cannot say it. */
  readonly switches: readonly boolean[] | null
  readonly switchesAndOne: readonly boolean[] | null
  readonly dials: readonly [number, number, number]
}

export interface CableLabel {
  /** “A3”. */
  readonly plug: string
  readonly fixture: string
  /** “7 m, 16 AWG”. */
  readonly cable: string
  /** The colour of its tape as a word; empty without one. */
  readonly tape: string
  readonly end: 'box end' | 'light end'
}

export function labelsOf(rig: Rig, kit: Kit): { boxes: BoxLabel[]; cables: CableLabel[] } {
  const { boxes } = patchSheet(rig, kit)
  return {
    boxes: boxes.map(({ box, badge, name, universe, addresses }) => {
      const { address } = rig.boxes[box]!
      return {
        badge,
        name,
        universe,
        address,
        addresses,
        switches: switchesOf(address, 'sum'),
        switchesAndOne: switchesOf(address, 'sumAndOne'),
        dials: dialsOf(address),
      }
    }),
    cables: boxes.flatMap(({ box, sockets }) =>
      sockets.flatMap(row => {
        if (row.fixture === null) return []
        const { cable } = rig.boxes[box]!.sockets.find(s => s.id === row.socket)!
        const tape = rig.fixtures[row.fixture]?.tape
        const label = {
          plug: row.plug,
          fixture: row.name,
          cable: `${metresText(cable.length)}, ${wireText(cable.wire)}`,
          tape: tape === undefined ? '' : tapeWord(tape),
        }
        return [
          { ...label, end: 'box end' as const },
          { ...label, end: 'light end' as const },
        ]
      }),
    ),
  }
}
