// The log of a night on paper: one table, the songs as headings, a mark at every fault.

import { chaptersOf, clockText } from '@glowchart/shared/night/report.ts'
import type { Sheet } from '../paper/sheet.ts'
import type { Night } from './nights.ts'

export function nightSheetOf({ evening, events }: Night, band: string, offset: number): Sheet {
  const faults = events.filter(event => event.fault).length
  const rows = chaptersOf(events).flatMap(({ song, events: own }, i) => [
    { key: `${i}`, cells: [<b key="song">{song ?? 'No song'}</b>], heads: true as const },
    ...own.map((event, j) => ({
      key: `${i} ${j}`,
      cells: [
        clockText(event.at, offset),
        event.fault ? <b key="fault">fault</b> : '',
        event.says,
        event.bar === undefined ? '' : `${event.bar}`,
      ],
    })),
  ])
  return {
    id: 'night',
    title: 'Log of the night',
    left: <b>{band}</b>,
    right: (
      <>
        {evening}
        <br />
        {events.length} lines, {faults} faults
      </>
    ),
    foot: 'Times are those of the laptop that ran the lights.',
    blocks: [
      {
        kind: 'table',
        key: 'night',
        caption: 'What happened',
        columns: [
          { head: 'Time', width: '66px' },
          { head: '', width: '42px' },
          { head: '', width: '*' },
          { head: 'Bar', width: '40px', right: true },
        ],
        rows,
      },
    ],
  }
}
