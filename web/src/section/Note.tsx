// The pencil note of a section on the chart: pressed, it is written on in its place.

import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Field } from './Field.tsx'
import { endInPlace, focusMark, noteInPlace, useInPlace } from './focus.ts'

interface Props {
  viewed: ViewedSong
  id: string
  /** Px from the field's left and top edges. */
  place: { left: number; top: number; width: number; height?: number }
  className: string
}

export function Note({ viewed, id, place, className }: Props) {
  const section = viewed.song.sections[id]!
  const isWritten = useInPlace(s => s.note === id)
  if (isWritten) {
    return (
      <span className={`${className} written`} style={place}>
        <Field
          label={`Note on ${section.name}`}
          value={section.note ?? ''}
          most={2000}
          lines
          atOnce
          onChange={note => edit('setNote', { song: viewed.id, section: id, note: note || null })}
          onEnd={key => {
            endInPlace()
            if (key !== null) focusMark(id)
          }}
        />
      </span>
    )
  }
  if (!section.note) return null
  return (
    <button
      type="button"
      className={className}
      style={place}
      title={section.note}
      aria-label={`Note on ${section.name}: ${section.note}`}
      onClick={() => noteInPlace(id)}
    >
      {section.note}
    </button>
  )
}
