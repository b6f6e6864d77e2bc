// What holds the light back besides the performers' own hands, in words for the run page's head.

import type { EngineStatus, HouseStatus } from '@glowchart/shared/messages.ts'
import type { House } from '@glowchart/shared/render/live.ts'
import type { Venue } from '@glowchart/shared/show/venue.ts'
import type { Cell } from './health.ts'

const percent = (level: number): string => `${Math.round(level * 100)} %`

/** The venue's limits while they hold something, and the house's desk. */
export function heldCells({ live, strobesHeld, house }: EngineStatus, venue: Venue | undefined): Cell[] {
  const cells: Cell[] = houseCells(house)
  const { trim = 1, highest = 1, strobes } = venue ?? {}
  const grand = live.grand * house.grand * trim
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

function houseCells({ state, source, blackout, grand, says }: HouseStatus): Cell[] {
  const cell = (well: Cell['well'], says: string, figure?: string): Cell[] => [
    { id: 'house', well, says, ...(figure !== undefined && { figure }) },
  ]
  const held = blackout ? 'dark' : grand < 1 ? `master ${percent(grand)}` : undefined
  switch (state) {
    case 'off':
      return []
    case 'waiting':
      return cell('heed', 'House not heard yet')
    case 'heard':
      if (blackout) return cell('stop', `House: ${source}`, held)
      return cell(says === '' && grand === 1 ? 'good' : 'heed', `House: ${source}`, held)
    case 'lost':
      return cell(holds({ blackout, grand }) ? 'stop' : 'heed', 'House lost', held && `held ${held}`)
  }
}

/** True while the house keeps something from being lit. */
export const holds = ({ blackout, grand }: House): boolean => blackout || grand < 1
