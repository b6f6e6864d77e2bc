// One look: its name, its picture, where it stands, and what each part does in it; a change here is seen everywhere.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useState } from 'react'
import { hexOf, stopsOf } from '../cue/colour.ts'
import { clearChoice } from '../document/choice.ts'
import { edit, editTogether } from '../document/editing.ts'
import type { Tonight, ViewedSong } from '../document/viewed.ts'
import { NameField } from '../ui/NameField.tsx'
import { LookPicture } from './LookPicture.tsx'
import './look.css'
import { lightWords } from './light-words.ts'
import { PartLight } from './PartLight.tsx'
import { placeAtPlayhead, usesOf } from './place.ts'
import { plainMotion } from './stage-now.ts'

interface Props {
  rig: Rig
  show: Show
  tonight: Tonight
  viewed: ViewedSong
  look: string
}

export function LookPanel({ rig, show, tonight, viewed, look: id }: Props) {
  const look = show.looks[id]!
  const [open, setOpen] = useState<string | null>(null)
  const [draft, setDraft] = useState<{ part: string; light: Light } | null>(null)
  const parts = show.partOrder.filter(part => look.parts[part])
  const others = show.partOrder.filter(part => !look.parts[part])
  const { places, songs } = usesOf(show, id)
  const shown = draft ? { ...look.parts, [draft.part]: draft.light } : look.parts
  const add = (part: string) => {
    const first = parts[0]
    const light = first
      ? look.parts[first]!
      : { level: 1, colours: { along: 'none' as const, colour: { hex: '#ffd29a' } }, motion: plainMotion }
    void edit('setLookPart', { look: id, part, light })
    setOpen(part)
  }
  return (
    <section className="panel" aria-label={`Look: ${look.name}`}>
      <header>
        <h2>
          <NameField
            label="Name of the look"
            name={look.name}
            onName={name => edit('renameLook', { look: id, name })}
          />
        </h2>
        <button type="button" className="btn quiet" onClick={clearChoice}>
          Songs
        </button>
      </header>
      <p className="where">{usesText(places, songs)}</p>
      <LookPicture {...{ rig, show, tonight }} parts={shown} width={282} height={92} moving />
      <div className="row">
        <button type="button" className="btn" onClick={() => placeAtPlayhead(id)}>
          Place at playhead
        </button>
        <button
          type="button"
          className="btn quiet"
          title={places > 0 ? 'Its cues keep its light as their own' : undefined}
          onClick={() => edit('deleteLook', { look: id })}
        >
          Delete
        </button>
      </div>
      <ul className="lights">
        {parts.map(part => {
          const light = look.parts[part]!
          const name = show.parts[part]!.name
          return (
            <li key={part}>
              <button
                type="button"
                className="light"
                aria-expanded={open === part}
                onClick={() => setOpen(open === part ? null : part)}
              >
                <b>{name}</b>
                <span>{lightWords(show, light)}</span>
                <i style={{ background: gradientOf(light, show.swatches) }} />
              </button>
              {open === part && (
                <>
                  <PartLight
                    {...{ rig, show, tonight, viewed, part, light }}
                    onDraft={next => setDraft({ part, light: next })}
                    onLight={(next, before = []) => {
                      setDraft(null)
                      void editTogether(null, [...before, ['setLookPart', { look: id, part, light: next }]])
                    }}
                  />
                  <button
                    type="button"
                    className="btn quiet"
                    onClick={() => edit('setLookPart', { look: id, part, light: null })}
                  >
                    Take {name} out of the look
                  </button>
                </>
              )}
            </li>
          )
        })}
      </ul>
      {others.length > 0 && (
        <select
          className="btn"
          aria-label="Add a part to the look"
          value=""
          onChange={event => add(event.target.value)}
        >
          <option value="" disabled>
            Add a part
          </option>
          {others.map(part => (
            <option key={part} value={part}>
              {show.parts[part]?.name}
            </option>
          ))}
        </select>
      )}
    </section>
  )
}

function usesText(places: number, songs: number): string {
  if (places === 0) return 'Stands nowhere yet'
  const at = places === 1 ? 'one place' : `${places} places`
  return `Stands at ${at}${songs > 1 ? ` in ${songs} songs` : ''}; what you change here changes there`
}

function gradientOf({ colours }: Light, swatches: Show['swatches']): string {
  const stops = stopsOf(colours)
  if (stops.length === 1) return hexOf(stops[0]!.colour, swatches)
  return `linear-gradient(90deg, ${stops.map(s => `${hexOf(s.colour, swatches)} ${s.at * 100}%`).join(', ')})`
}
