// What holds the light back besides the performers' own hands, in words for the run page's head.

import type { EngineStatus } from '@glowchart/shared/messages.ts'
import type { Venue } from '@glowchart/shared/show/venue.ts'
import type { Cell } from './health.ts'

const percent = (level: number): string => `${Math.round(level * 100)} %`

/** The venue's limits while they hold something. */
export function heldCells({ live, strobesHeld }: EngineStatus, venue: Venue | undefined): Cell[] {
  const cells: Cell[] = []
  const { trim = 1, highest = 1, strobes } = venue ?? {}
  const grand = live.grand * trim
  if (grand > highest)
    cells.push({ id: 'highest', well: 'heed', says: 'Venue: grand held', figure: `at ${percent(highest)}` })
  else if (trim < 1) cells.push({ id: 'trim', well: 'good', says: 'Venue trim', figure: percent(trim) })
  if (strobesHeld)
    cells.push({
      id: 'strobes',
      well: 'heed',
      says: 'Venue: strobe held steady',
      figure: strobes === 'none' ? 'no strobe' : `at most ${strobes}/s`,
    })
  return cells
}
