// The looks of the show, each with a small picture of the stage in it; to choose, or to drag onto the chart.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useState } from 'react'
import { chooseThing } from '../document/choice.ts'
import type { Tonight } from '../document/viewed.ts'
import { carryLook } from './carry.ts'
import { LookPicture } from './LookPicture.tsx'
import './look.css'
import { beginLookOfStage } from './naming.ts'

export function Looks({ rig, show, tonight }: { rig: Rig; show: Show; tonight: Tonight }) {
  const [at, setAt] = useState<string | null>(null)
  const looks = Object.entries(show.looks).sort(([, a], [, b]) => a.name.localeCompare(b.name))
  return (
    <section className="panel looks" aria-labelledby="looks-title">
      <h2 id="looks-title">Looks</h2>
      {looks.length === 0 && (
        <p className="bare">No look yet. Make one of what is on the stage, or press N on chosen cues.</p>
      )}
      <ul>
        {looks.map(([id, { name, parts }]) => (
          <li key={id}>
            <button
              type="button"
              draggable
              aria-label={name}
              title="Drag onto the chart, or choose"
              onClick={() => chooseThing('look', id)}
              onDragStart={event => carryLook(event, id)}
              onPointerEnter={() => setAt(id)}
              onPointerLeave={() => setAt(null)}
              onFocus={() => setAt(id)}
              onBlur={() => setAt(null)}
            >
              <LookPicture {...{ rig, show, tonight, parts }} width={134} height={50} moving={at === id} />
              <span className="name">{name}</span>
            </button>
          </li>
        ))}
      </ul>
      <button type="button" className="btn" onClick={beginLookOfStage}>
        Make a look of the stage now
      </button>
    </section>
  )
}
