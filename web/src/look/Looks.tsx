// The looks of the show, each with a small picture of the stage in it; to choose, or to drag onto the chart.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useState } from 'react'
import { Editable } from '../access/Editable.tsx'
import { chooseThing } from '../document/choice.ts'
import type { Tonight } from '../document/viewed.ts'
import { carryLook } from './carry.ts'
import { foundBy } from './find.ts'
import { LookPicture } from './LookPicture.tsx'
import './look.css'
import { beginLookOfStage } from './naming.ts'
import { placeAtPlayhead } from './place.ts'

export function Looks({ rig, show, tonight }: { rig: Rig; show: Show; tonight: Tonight }) {
  const [at, setAt] = useState<string | null>(null)
  const [letters, setLetters] = useState('')
  const all = Object.entries(show.looks).sort(([, a], [, b]) => a.name.localeCompare(b.name))
  const looks = foundBy(letters, all)
  return (
    <section className="panel looks" aria-labelledby="looks-title">
      <h2 id="looks-title">Looks</h2>
      {all.length === 0 ? (
        <p className="bare">No look yet. Make one of what is on the stage, or press N on chosen cues.</p>
      ) : (
        <input
          type="search"
          className="text"
          data-reach="looks"
          aria-label="Find a look; Enter places it at the playhead"
          placeholder="Find one; Enter places it"
          title="K comes here"
          autoComplete="off"
          spellCheck={false}
          value={letters}
          onChange={event => setLetters(event.target.value)}
          onKeyDown={event => {
            if (event.key !== 'Enter' && event.key !== 'Escape') return
            event.preventDefault()
            const first = looks[0]
            if (event.key === 'Enter' && !first) return
            setLetters('')
            // The keys are the page's again.
            event.currentTarget.blur()
            if (event.key === 'Enter' && first) placeAtPlayhead(first[0])
          }}
        />
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
      <Editable>
        <button type="button" className="btn" onClick={beginLookOfStage}>
          Make a look of the stage now
        </button>
      </Editable>
    </section>
  )
}
