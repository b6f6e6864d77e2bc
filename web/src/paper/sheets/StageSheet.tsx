// The stage plan alone: metres and feet, heights, cable runs; and in a table what a tape measure asks for.

import { patchSheet } from '@glowchart/shared/paper/patch-sheet.ts'
import { feetText, metresText, wireText } from '@glowchart/shared/paper/words.ts'
import { reachOf } from '@glowchart/shared/rig/reach.ts'
import type { Place } from '@glowchart/shared/show/fields.ts'
import { headWords, type PaperContext } from '../context.ts'
import { Plan } from '../plan/Plan.tsx'
import type { Block, Sheet, TableRow } from '../sheet.ts'
import { contentWidth } from '../size.ts'

export function stageSheetOf(context: PaperContext): Sheet {
  const { rig, kit, size } = context
  const { width, depth, height } = kit.stage
  const rows: TableRow[] = []
  for (const box of patchSheet(rig, kit).boxes) {
    const out = kit.boxes[box.box]!
    rows.push({
      key: box.box,
      cells: [<b key="badge">{box.badge}</b>, <b key="name">{box.name}</b>, ...placeCells(out.place), ''],
    })
    for (const socket of box.sockets) {
      const stand = out.sockets[socket.socket]
      const cable = rig.boxes[box.box]!.sockets.find(s => s.id === socket.socket)!.cable
      if (!stand) continue
      rows.push({
        key: `${box.box}.${socket.socket}`,
        cells: [
          socket.plug,
          socket.name,
          ...placeCells(stand.place),
          runText(out.place, stand.place, cable.length, wireText(cable.wire)),
        ],
      })
    }
  }
  for (const [id, guest] of Object.entries(kit.guests)) {
    rows.push({ key: id, cells: ['', guest.name, ...placeCells(guest.place), 'mains lead of its own'] })
  }
  const blocks: Block[] = [
    {
      kind: 'whole',
      key: 'plan',
      node: (
        <>
          <Plan rig={rig} kit={kit} width={contentWidth(size)} most={520} heights />
          <p className="legend">
            ◉ stands upright · ○ bulb · ▬ lies or hangs across · solid line: cable on the floor · dashes:
            overhead · thicker: larger wire
          </p>
        </>
      ),
    },
    {
      kind: 'table',
      key: 'places',
      caption: 'Where everything stands',
      columns: [
        { head: 'Plug', width: '44px' },
        { head: 'Light or box', width: '*' },
        { head: 'From the centre, to stage', width: '128px', right: true },
        { head: 'From the front', width: '116px', right: true },
        { head: 'Up', width: '116px', right: true },
        { head: 'Cable', width: '176px', right: true },
      ],
      rows,
    },
  ]
  const [band, where] = headWords(context)
  return {
    id: 'stage',
    title: 'Stage plan',
    left: (
      <>
        <b>{band}</b>
        <br />
        {where}
      </>
    ),
    right: (
      <>
        {metresText(width)} × {metresText(depth)}, {metresText(height)} high
        <br />
        {feetText(width)} × {feetText(depth)}, {feetText(height)}
      </>
    ),
    foot: 'Cables on a stage are trip hazards: along the edges, every crossing taped or covered.',
    blocks,
  }
}

function placeCells(place: Place): string[] {
  const side = place.x === 0 ? '' : place.x < 0 ? ' right' : ' left'
  const both = (metres: number): string => `${metresText(metres)} (${feetText(metres)})`
  return [`${both(Math.abs(place.x))}${side}`, both(place.y), place.z < 0.005 ? 'floor' : both(place.z)]
}

function runText(box: Place, light: Place, length: number, wire: string): string {
  const { slack } = reachOf(box, light, length)
  const left =
    slack < 0
      ? `too short by ${metresText(Number((-slack).toFixed(2)))}`
      : `${metresText(Number(slack.toFixed(1)))} left`
  return `${metresText(length)} ${wire}, ${left}`
}
