// The pack list: case by case, counted, with spares, and two boxes to tick: packed to go, and packed to come home.

import { packList } from '@glowchart/shared/paper/packing.ts'
import { Tick } from '../Blocks.tsx'
import { headWords, type PaperContext } from '../context.ts'
import type { Sheet } from '../sheet.ts'

export function packSheetOf(context: PaperContext): Sheet {
  const { cases, kilograms } = packList(context.rig, context.kit)
  const [band, where] = headWords(context)
  return {
    id: 'pack',
    title: 'Pack list',
    left: (
      <>
        <b>{band}</b>
        <br />
        {where}
      </>
    ),
    right: (
      <>
        {context.kit.name}
        <br />
        {kilograms === null ? `${cases.length} cases` : `lights ${Number(kilograms.toFixed(1))} kg`}
      </>
    ),
    foot: 'Tick once when it goes in, once when it comes home.',
    blocks: cases.map(one => ({
      kind: 'table',
      key: one.name,
      caption: (
        <h3>
          {one.name}
          {one.practice && <small>{one.practice} Common practice, no source.</small>}
        </h3>
      ),
      columns: [
        { head: 'Count', width: '44px' },
        { head: 'What', width: '206px' },
        { head: 'Which', width: '*' },
        { head: 'Out', width: '34px', right: true },
        { head: 'Home', width: '42px', right: true },
      ],
      rows: one.rows.map(row => ({
        key: row.what,
        cells: [
          <b key="count" className="count">
            {row.count}
          </b>,
          <b key="what">{row.what}</b>,
          row.which,
          <Tick key="out" />,
          <Tick key="home" />,
        ],
      })),
    })),
  }
}
