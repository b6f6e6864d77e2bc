// The build sheets: a page a build, to stand on the workbench.

import { MAINS_NOTICE } from '@glowchart/shared/advice/safety.ts'
import { type BuildSheet, buildSheet } from '@glowchart/shared/paper/build-sheet.ts'
import type { PaperContext } from '../context.ts'
import type { Block, Sheet } from '../sheet.ts'
import { BuildPicture, PlugPicture } from './BuildPictures.tsx'

export function buildSheetOf({ rig }: PaperContext, id: string): Sheet {
  const sheet = buildSheet(rig, id)
  const blocks: Block[] = [
    {
      kind: 'whole',
      key: 'pictures',
      node: (
        <div className="build-pictures">
          <BuildPicture build={sheet.value} />
          <PlugPicture build={sheet.value} />
        </div>
      ),
    },
    { kind: 'whole', key: 'facts', node: <Facts sheet={sheet} /> },
    { kind: 'whole', key: 'turns', node: <Turns sheet={sheet} /> },
  ]
  if (sheet.parts.length > 0) blocks.push(partsTable(sheet))
  if (sheet.serials.length > 0) {
    blocks.push({
      kind: 'table',
      key: 'serials',
      caption: 'Made of it',
      columns: [
        { head: 'Serial', width: '110px' },
        { head: 'Name', width: '160px' },
        { head: 'Open faults', width: '*' },
      ],
      rows: sheet.serials.map(({ serial, name, faults }) => ({
        key: serial,
        cells: [<b key="serial">{serial}</b>, name, faults.join('; ') || 'none'],
      })),
    })
  }
  return {
    id: `build ${id}`,
    title: sheet.name,
    left: (
      <>
        <b>{rig.name}</b>
        <br />
        Build sheet
      </>
    ),
    right: (
      <>
        {sheet.serials.length} made
        <br />
        {sheet.value.volts} V, {sheet.value.channels.length} channels
      </>
    ),
    foot: MAINS_NOTICE,
    blocks,
  }
}

function Facts({ sheet }: { sheet: BuildSheet }) {
  return (
    <div className="pair">
      <section>
        <h3>What it is</h3>
        <dl className="build-facts">
          {sheet.facts.map(([label, value]) => (
            <div key={value}>
              <dt>{label}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
        {sheet.value.note && <p className="note">{sheet.value.note}</p>}
      </section>
      <section>
        <h3>What it draws, full on</h3>
        <dl className="build-facts">
          {sheet.draws.map(([label, value]) => (
            <div key={label}>
              <dt>{label}</dt>
              <dd>{value}</dd>
            </div>
          ))}
          {sheet.draws.length === 0 && (
            <div>
              <dt>Not said</dt>
              <dd>measure it, and write it on the build</dd>
            </div>
          )}
        </dl>
        {sheet.cuts.length > 0 && (
          <>
            <h3>Cut list</h3>
            <ul className="plain">
              {sheet.cuts.map(cut => (
                <li key={cut}>{cut}</li>
              ))}
            </ul>
          </>
        )}
      </section>
    </div>
  )
}

function Turns({ sheet }: { sheet: BuildSheet }) {
  return (
    <section>
      <h3>If its plug is turned in the socket</h3>
      <ul className="plain">
        {sheet.turns.map(turn => (
          <li key={turn}>{turn}</li>
        ))}
      </ul>
    </section>
  )
}

function partsTable(sheet: BuildSheet): Block {
  const money = (value: number | null): string => (value === null ? '' : value.toFixed(2))
  const all = sheet.parts.map(({ what, count, price, sum }, i) => ({
    key: `${i} ${what}`,
    cells: [count, what, money(price), money(sum)],
  }))
  const total = {
    key: 'total',
    cells: ['', <b key="all">All that has a price</b>, '', <b key="sum">{money(sheet.price)}</b>],
  }
  return {
    kind: 'table',
    key: 'parts',
    caption: 'Parts for one',
    columns: [
      { head: 'Count', width: '50px' },
      { head: 'What', width: '*' },
      { head: 'Each', width: '80px', right: true },
      { head: 'Together', width: '80px', right: true },
    ],
    rows: sheet.price === null ? all : [...all, total],
  }
}
