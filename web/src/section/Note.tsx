// The pencil note of a section on the chart: pressed, it is written on in its place.

import type { Section } from '@glowchart/shared/show/song.ts'
import { edit } from '../document/editing.ts'
import { Field } from './Field.tsx'
import { endInPlace, focusMark, noteInPlace, useInPlace } from './focus.ts'

interface Props {
  /** Id of the song. */
  song: string
  id: string
  section: Section
  /** Px from the field's left and top edges. */
  place: { left: number; top: number; width: number; height?: number }
  className: string
}

export function Note({ song, id, section, place, className }: Props) {
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
          onChange={note => edit('setNote', { song, section: id, note: note || null })}
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
