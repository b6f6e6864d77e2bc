// The preflight: every check in the order of the evening's work, judged from the facts at one moment.

import type { Facts } from './facts.ts'
import { diskRow, filesRow, recordingsRow } from './files.ts'
import { batteryRow, pagesRow, sleepRow, timeRow, understudyRow } from './laptop.ts'
import { clockRow, framesRow, pedalsRow, portsRow } from './playing.ts'
import type { Row } from './row.ts'
import { setRow, songsRow, versionRow } from './set.ts'
import { cablesRow, faultsRow, lineCheckRow, partsRow, patchRow, wiringRow } from './stage.ts'
import { flashRow, powerRow, strobeRow } from './strength.ts'
import { houseRow, nodesRow, sendingRow, universesRow } from './wire.ts'

export interface Group {
  readonly name: string
  readonly rows: readonly Row[]
}

/** All rows, in groups. Equal facts give equal rows. */
export const preflight = (facts: Facts): Group[] => [
  {
    name: 'The show',
    rows: [filesRow, diskRow, recordingsRow, setRow, songsRow, versionRow].map(row => row(facts)),
  },
  {
    name: 'The stage',
    rows: [patchRow, partsRow, faultsRow, lineCheckRow, wiringRow, cablesRow].map(row => row(facts)),
  },
  { name: 'Power and flashing', rows: [powerRow, flashRow, strobeRow].map(row => row(facts)) },
  {
    name: 'The way out',
    rows: [universesRow, nodesRow, sendingRow, houseRow, framesRow].map(row => row(facts)),
  },
  { name: 'What starts the songs', rows: [clockRow, portsRow, pedalsRow].map(row => row(facts)) },
  {
    name: 'The laptop',
    rows: [batteryRow, sleepRow, timeRow, pagesRow, understudyRow].map(row => row(facts)),
  },
]
