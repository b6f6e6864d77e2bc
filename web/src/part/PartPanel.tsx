// One part: its name, its place in the chart's order, its fixtures tonight, and its cue tracks in this song.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { choose, clearChoice, useChoice } from '../document/choice.ts'
import { edit, editTogether, type Told } from '../document/editing.ts'
import type { Tonight, ViewedSong } from '../document/viewed.ts'
import '../look/look.css'
import { NameField } from '../ui/NameField.tsx'
import { FixtureList } from './FixtureList.tsx'
import './part.css'
import { TrackList } from './TrackList.tsx'

interface Props {
  show: Show
  tonight: Tonight
  viewed: ViewedSong
  part: string
}

export function PartPanel({ show, tonight, viewed, part }: Props) {
  const { name } = show.parts[part]!
  const chosen = useChoice(s => s.cues)
  const at = show.partOrder.indexOf(part)
  const earlier = show.partOrder[at - 1]
  const later = show.partOrder[at + 2] ?? null
  const isLast = at === show.partOrder.length - 1
  return (
    <section className="panel part-panel" aria-label={`Part: ${name}`}>
      <header>
        <h2>
          <NameField
            label="Name of the part"
            name={name}
            onName={next => edit('renamePart', { part, name: next })}
          />
        </h2>
        <button type="button" className="btn quiet" onClick={clearChoice}>
          Songs
        </button>
      </header>
      <p className="where">
        Row {at + 1} of {show.partOrder.length}
        <button
          type="button"
          className="word"
          aria-disabled={at === 0}
          onClick={() => earlier !== undefined && edit('movePart', { part, before: earlier })}
        >
          Higher
        </button>
        <button
          type="button"
          className="word"
          aria-disabled={isLast}
          onClick={() => !isLast && edit('movePart', { part, before: later })}
        >
          Lower
        </button>
      </p>
      {chosen.length > 0 && (
        <div className="row">
          <button type="button" className="btn" onClick={() => choose(chosen)}>
            {chosen.length === 1
              ? 'Change its cue in this song'
              : `Change its ${chosen.length} cues in this song`}
          </button>
        </div>
      )}
      <FixtureList {...{ show, tonight, part }} />
      <TrackList {...{ show, viewed, part }} />
      <div className="row">
        <button type="button" className="btn quiet" onClick={() => remove(show, part)}>
          {deleteText(show, part)}
        </button>
      </div>
    </section>
  )
}

/** The cue tracks of a part in all songs, and how many cues are on them. */
function tracksOf(show: Show, part: string): { tracks: { song: string; track: string }[]; cues: number } {
  let cues = 0
  const tracks = Object.entries(show.songs).flatMap(([song, { tracks, sections }]) => {
    const own = Object.keys(tracks).filter(track => tracks[track]!.part === part)
    for (const section of Object.values(sections)) {
      cues += Object.values(section.cues).filter(cue => own.includes(cue.track)).length
    }
    return own.map(track => ({ song, track }))
  })
  return { tracks, cues }
}

function deleteText(show: Show, part: string): string {
  const { cues } = tracksOf(show, part)
  if (cues === 0) return 'Delete the part'
  return cues === 1 ? 'Delete the part and its cue' : `Delete the part and its ${cues} cues in all songs`
}

function remove(show: Show, part: string): void {
  const { tracks } = tracksOf(show, part)
  const told = tracks.map((track): Told => ['deleteTrack', track])
  void editTogether(null, [...told, ['deletePart', { part }]])
}
