// The sections of a song as a row of rehearsal marks, each as wide as it is long.

import type { Song } from '@glowchart/shared/show/song.ts'
import { rehearsalMarks } from '@glowchart/shared/time/marks.ts'

export function SectionMarks({ song }: { song: Song }) {
  const marks = rehearsalMarks(song)
  return (
    <ol className="section-marks" aria-label="Sections">
      {song.sectionOrder.map(id => {
        const { name, bars, sameAs } = song.sections[id]!
        return (
          <li key={id} style={{ flexGrow: bars }} title={`${name}, ${bars} bars`}>
            <span className={sameAs ? 'mark again' : 'mark'}>{marks.get(id)}</span>
            <span className="name">{name}</span>
            <small>{bars}</small>
          </li>
        )
      })}
    </ol>
  )
}
