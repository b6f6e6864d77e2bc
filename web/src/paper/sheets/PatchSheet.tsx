// The patch sheet: the plan with its plugs, then a table a box with addresses, cables and a box to tick.

import { type BoxRows, patchSheet } from '@glowchart/shared/paper/patch-sheet.ts'
import { Tick } from '../Blocks.tsx'
import { headWords, type PaperContext } from '../context.ts'
import { Plan } from '../plan/Plan.tsx'
import type { Block, Sheet } from '../sheet.ts'
import { contentWidth } from '../size.ts'
import { PowerBar } from './PowerBar.tsx'

/** A box of more sockets has a table over the whole width, which may break. */
const SIDE_BY_SIDE = 12

export function patchSheetOf(context: PaperContext): Sheet {
  const { rig, kit, size } = context
  const { boxes, guests, clashes } = patchSheet(rig, kit)
  const lit = boxes.reduce((sum, box) => sum + box.load.sockets.length, 0) + guests.length
  const universes = [...new Set([...boxes, ...guests].map(one => one.universe))].sort((a, b) => a - b)
  const blocks: Block[] = [
    {
      kind: 'whole',
      key: 'plan',
      node: <Plan rig={rig} kit={kit} width={contentWidth(size)} most={400} />,
    },
  ]
  const small = boxes.filter(box => box.sockets.length <= SIDE_BY_SIDE)
  for (let i = 0; i < small.length; i += 2) {
    const pair = small.slice(i, i + 2)
    blocks.push({
      kind: 'whole',
      key: pair.map(box => box.box).join('+'),
      node: (
        <div className="pair">
          {pair.map(box => (
            <BoxTable key={box.box} box={box} context={context} />
          ))}
        </div>
      ),
    })
  }
  for (const box of boxes.filter(one => one.sockets.length > SIDE_BY_SIDE)) {
    blocks.push(longTable(box))
    blocks.push({
      kind: 'whole',
      key: `${box.box} power`,
      node: <PowerBar load={box.load} context={context} />,
    })
  }
  if (guests.length > 0) {
    blocks.push({
      kind: 'table',
      key: 'guests',
      caption: 'With addresses of their own',
      columns: [
        { head: 'Light', width: '*' },
        { head: 'Build', width: '*' },
        { head: 'Universe', width: '70px', right: true },
        { head: 'Addresses', width: '90px', right: true },
        { head: '', width: '26px', right: true },
      ],
      rows: guests.map(guest => ({
        key: guest.guest,
        cells: [
          <b key="name">{guest.name}</b>,
          guest.build,
          guest.universe,
          guest.addresses,
          <Tick key="tick" />,
        ],
      })),
    })
  }
  if (clashes.length > 0) {
    blocks.push({
      kind: 'whole',
      key: 'clashes',
      node: (
        <section className="caution">
          <h3>Put right before it is plugged</h3>
          <ul>
            {clashes.map(clash => (
              <li key={clash.says}>
                {clash.says} {clash.remedy}
              </li>
            ))}
          </ul>
        </section>
      ),
    })
  }
  const [band, where] = headWords(context)
  return {
    id: 'patch',
    title: 'Patch sheet',
    left: (
      <>
        <b>{band}</b>
        <br />
        {where}
      </>
    ),
    right: (
      <>
        {universes.length === 1 ? 'Universe' : 'Universes'} {universes.join(', ')}
        <br />
        {kit.name}, {lit} lights
      </>
    ),
    foot: 'Tick each socket when it shows red, green, blue, white.',
    blocks,
  }
}

function BoxTable({ box, context }: { box: BoxRows; context: PaperContext }) {
  return (
    <section className="box-table">
      <BoxHead box={box} />
      <table>
        <colgroup>
          <col style={{ width: '20px' }} />
          <col />
          <col style={{ width: '48px' }} />
          <col style={{ width: '98px' }} />
          <col style={{ width: '22px' }} />
        </colgroup>
        <tbody>
          {box.sockets.map(row => (
            <tr key={row.socket} className={row.fixture === null ? 'free' : undefined}>
              <th scope="row" className="plug">
                {row.label}
              </th>
              <td>
                {row.fixture === null ? 'free' : <b>{row.name}</b>} <small>{row.tonight || row.build}</small>
              </td>
              <td className="r">{row.addresses}</td>
              <td className="r">{row.fixture === null ? '' : row.cable}</td>
              <td className="r">{row.fixture === null ? '' : <Tick />}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <PowerBar load={box.load} context={context} />
    </section>
  )
}

function BoxHead({ box }: { box: BoxRows }) {
  return (
    <h3>
      <span className="badge">{box.badge}</span>
      {box.name}
      <small>
        universe {box.universe}, addresses {box.addresses}
      </small>
    </h3>
  )
}

function longTable(box: BoxRows): Block {
  return {
    kind: 'table',
    key: box.box,
    caption: <BoxHead box={box} />,
    columns: [
      { head: '', width: '28px' },
      { head: 'Light', width: '*' },
      { head: 'Build', width: '*' },
      { head: 'Addresses', width: '76px', right: true },
      { head: 'Cable', width: '110px', right: true },
      { head: '', width: '26px', right: true },
    ],
    rows: box.sockets.map(row => ({
      key: row.socket,
      cells: [
        <b key="plug">{row.label}</b>,
        row.fixture === null ? 'free' : <b key="name">{row.name}</b>,
        row.tonight || row.build,
        row.addresses,
        row.fixture === null ? '' : row.cable,
        row.fixture === null ? '' : <Tick key="tick" />,
      ],
    })),
  }
}
