// Whose light it is: a look's, and then what is changed here changes everywhere, or the cue's own.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import { edit } from '../document/editing.ts'
import { type Chosen, shared } from './chosen.ts'

interface Props {
  show: Show
  song: string
  chosen: readonly Chosen[]
}

export function LookLine({ show, song, chosen }: Props) {
  const linked = chosen.filter(one => one.look !== null)
  const look = shared(chosen, one => one.look)
  const uses = useMemo(() => {
    const parts = new Map<string, Set<string>>()
    for (const { look, track } of linked) {
      parts.set(look!, (parts.get(look!) ?? new Set()).add(track.part))
    }
    let cues = 0
    const songs = new Set<string>()
    for (const [id, { sections, tracks }] of Object.entries(show.songs)) {
      for (const section of Object.values(sections)) {
        for (const { light, track } of Object.values(section.cues)) {
          if (!('look' in light) || !parts.get(light.look)?.has(tracks[track]?.part ?? '')) continue
          cues += 1
          songs.add(id)
        }
      }
    }
    return { cues, songs: songs.size }
  }, [show, linked])
  const fitting = Object.entries(show.looks).filter(([, { parts }]) =>
    chosen.every(({ track }) => parts[track.part]),
  )
  const toLook = (
    <select
      className="btn"
      aria-label="Link to a look"
      value=""
      onChange={event => {
        const cues = chosen.map(one => one.ref)
        void edit('linkCueToLook', { song, cues, look: event.target.value })
      }}
    >
      <option value="" disabled>
        Link to a look
      </option>
      {fitting.map(([id, { name }]) => (
        <option key={id} value={id}>
          {name}
        </option>
      ))}
    </select>
  )
  if (linked.length === 0) {
    return (
      <div className="look-line">
        <p>Its own light</p>
        {fitting.length > 0 && toLook}
      </div>
    )
  }
  return (
    <div className="look-line linked">
      <p>
        {look === null ? (
          `${linked.length} of ${chosen.length} have a look: changed everywhere`
        ) : uses.cues === 1 ? (
          <>
            Look <b>{show.looks[look]?.name}</b>, this cue only
          </>
        ) : (
          <>
            Changes <b>{show.looks[look]?.name}</b> everywhere: {uses.cues} cues
            {uses.songs > 1 && ` in ${uses.songs} songs`}
          </>
        )}
      </p>
      <button
        type="button"
        className="btn"
        onClick={() => edit('freeCueFromLook', { song, cues: linked.map(one => one.ref) })}
      >
        Free here
      </button>
    </div>
  )
}
