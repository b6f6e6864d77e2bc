// The note tracks of a MIDI file, each with its number of notes and, by choice, the part that they become cues of.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { SmfSong } from '@glowchart/shared/smf/read.ts'

interface Props {
  smf: SmfSong
  show: Show
  /** By track. */
  parts: Readonly<Record<number, string>>
  onParts: (parts: Readonly<Record<number, string>>) => void
}

export function NoteTracks({ smf, show, parts, onParts }: Props) {
  const tracks = smf.tracks.flatMap(({ name, notes }, track) =>
    notes.length > 0 ? [{ track, name: name || `Track ${track + 1}`, count: notes.length }] : [],
  )
  if (tracks.length === 0) return <p className="quiet">It has no notes.</p>
  return (
    <ul className="note-tracks" aria-label="Note tracks">
      {tracks.map(({ track, name, count }) => (
        <li key={track}>
          <span className="name">{name}</span>
          <small>{count === 1 ? '1 note' : `${count} notes`}</small>
          <select
            aria-label={`Cues from ${name}`}
            value={parts[track] ?? ''}
            onChange={event => {
              const { [track]: _, ...others } = parts
              const part = event.target.value
              onParts(part === '' ? others : { ...others, [track]: part })
            }}
          >
            <option value="">no cues</option>
            {show.partOrder.map(part => (
              <option key={part} value={part}>
                {show.parts[part]!.name}
              </option>
            ))}
          </select>
        </li>
      ))}
    </ul>
  )
}
