// The preflight on paper: every check in one table, its box ticked where it is good, with room to sign.

import type { Group } from '@glowchart/shared/preflight/judge.ts'
import { type Judged, judgedWords } from '@glowchart/shared/preflight/judged.ts'
import type { Row } from '@glowchart/shared/preflight/row.ts'
import type { Block, Sheet } from '../paper/sheet.ts'
import { Sign } from '../ui/signs.tsx'
import { resultWords } from './RowView.tsx'

interface Judging {
  readonly judged: Judged
  readonly groups: readonly Group[]
}

/** @param at when it was printed, in words */
export function checkSheetOf({ judged, groups }: Judging, at: string): Sheet {
  const { show } = judged
  const rows = groups.flatMap(({ name, rows: own }) => [
    { key: name, cells: [<b key="name">{name}</b>], heads: true as const },
    ...own.map(row => ({
      key: row.id,
      cells: [
        <span key="tick" className="tick" role="img" aria-label={resultWords[row.result]}>
          {row.result === 'good' && <Sign name="tick" />}
        </span>,
        <b key="checked">{row.checked}</b>,
        <Found key="found" row={row} />,
      ],
    })),
  ])
  const blocks: Block[] = [
    {
      kind: 'table',
      key: 'checks',
      caption: `${judgedWords(judged)} An empty box is for a hand: what could not be told, or was mended since.`,
      columns: [
        { head: '', width: '24px' },
        { head: 'Checked', width: '214px' },
        { head: 'Found', width: '*' },
      ],
      rows,
    },
  ]
  return {
    id: 'preflight',
    title: 'Before doors',
    left: (
      <>
        <b>{show.name}</b>
        <br />
        {show.kits[show.tonight]?.name}
      </>
    ),
    right: (
      <>
        {at}
        <br />
        {show.tonightList === undefined ? 'All songs' : show.setLists[show.tonightList]?.name}
      </>
    ),
    foot: 'Glowchart advises; it certifies nothing. Local codes and the rules of the house come first.',
    blocks,
  }
}

function Found({ row: { result, says, remedy } }: { row: Row }) {
  if (result === 'good') return says
  return (
    <>
      <b>{resultWords[result]}.</b> {says} {result !== 'unknown' && remedy}
    </>
  )
}
