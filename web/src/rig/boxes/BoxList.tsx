// The boxes in the side: those on the stage with their power tonight, and those that stay in the van.

import { boxLoad } from '@glowchart/shared/power/box.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useState } from 'react'
import { carrying, isPress } from '../carry.ts'
import { addBox, placeBox } from '../first.ts'
import { songsTonight } from '../peaks/brightest.ts'
import { startMetering, usePeaks } from '../peaks/peaks.ts'
import { floorAt } from '../plan/floor.ts'
import { badgeOf, boxRange } from '../words.ts'
import './boxes.css'
import { BoxCard } from './BoxCard.tsx'

export function BoxList({ rig, show }: { rig: Rig; show: Show }) {
  const kit = show.kits[show.tonight]!
  const lists = Object.entries(show.setLists)
  const [list, setList] = useState<string | null>(lists[0]?.[0] ?? null)
  const { left, share } = usePeaks()
  useEffect(() => startMetering(), [])
  const songs = songsTonight(show, list)
  const out = Object.keys(kit.boxes).filter(id => rig.boxes[id])
  const van = Object.keys(rig.boxes).filter(id => !kit.boxes[id])
  const isBare = out.length === 0
  return (
    <div className="box-list">
      <div className="peaks">
        <label className="field">
          Brightest moments of
          <select
            value={list !== null && show.setLists[list] ? list : ''}
            onChange={event => setList(event.target.value || null)}
          >
            {lists.map(([id, { name }]) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
            <option value="">All songs</option>
          </select>
        </label>
        <p role="status" className="progress">
          {left > 0 &&
            `Metering, ${left} ${left === 1 ? 'song' : 'songs'} left (${Math.round(share * 100)} %)`}
        </p>
      </div>
      {out.length > 1 && <p className="mains">{mainsText(rig, kit, out)}</p>}
      {out.map(box => (
        <BoxCard key={box} {...{ rig, show, box, songs }} />
      ))}
      <section className="van" aria-labelledby="van-title">
        <h2 id="van-title">{isBare ? 'Boxes' : 'In the van'}</h2>
        <p>
          {van.length === 0
            ? isBare
              ? 'A box is a supply, a decoder and its sockets. Add the first one.'
              : 'All boxes are out.'
            : 'Drag a box onto the plan, or press it.'}
        </p>
        <ul>
          {van.map(id => {
            const { name } = rig.boxes[id]!
            const drop = (x: number, y: number) => {
              const place = floorAt(x, y)
              if (place) placeBox(id, place)
            }
            return (
              <li key={id}>
                <button
                  type="button"
                  className="btn"
                  onClick={event => isPress(event) && placeBox(id)}
                  {...carrying({ kind: 'box', id, name }, drop)}
                >
                  <span className="badge" aria-hidden="true">
                    {badgeOf(name)}
                  </span>
                  {name}, {boxRange(rig.boxes[id]!)}
                </button>
              </li>
            )
          })}
          <li>
            <button type="button" className="btn outline" onClick={() => addBox()}>
              {isBare && van.length === 0 ? 'Add a first box' : 'Add a box'}
            </button>
          </li>
        </ul>
      </section>
    </div>
  )
}

/** All boxes at the wall: how many outlets, and amps with everything on. */
function mainsText(rig: Rig, kit: Kit, boxes: readonly string[]): string {
  const byVolts = new Map<number, number>()
  for (const id of boxes) {
    const volts = rig.boxes[id]!.supply.mainsVolts
    byVolts.set(volts, (byVolts.get(volts) ?? 0) + (boxLoad(rig, kit, id)?.mainsAmps ?? 0))
  }
  const amps = [...byVolts].map(([volts, sum]) => `${sum.toFixed(1)} A at ${volts} V`)
  return `At the wall: ${boxes.length} outlets, ${amps.join(', ')} with everything on white.`
}
