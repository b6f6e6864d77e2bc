// Where else the chosen cues are played over links, so that all who follow are known before they are changed; and the
// press by which only the place they were chosen in is changed.

import type { Chosen } from '../cue/chosen.ts'
import { type ChosenCue, choose } from '../document/choice.ts'
import { editTogether, type Told } from '../document/editing.ts'
import { type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { familyOf, namesInWords } from './acts.ts'

interface Props {
  viewed: ViewedSong
  chosen: readonly Chosen[]
}

export function AlsoIn({ viewed, chosen }: Props) {
  const { song } = viewed
  const source = chosen[0]!.ref.section
  // Cues of a copy's own, on a freed track, are played nowhere else.
  if (song.sections[source]?.sameAs || chosen.some(one => one.ref.section !== source)) return null
  const tracks = [...new Set(chosen.map(one => one.place.cue.track))]
  const players = familyOf(viewed, source).filter(
    id => id === source || tracks.some(track => !song.sections[id]!.sameAs!.freed.includes(track)),
  )
  // Of several cues, each was seen where it was chosen: here is the place of all of them, or the source.
  const here = chosen.every(one => one.place.section === chosen[0]!.place.section)
    ? chosen[0]!.place.section
    : source
  const others = players.filter(id => id !== here)
  if (others.length === 0 || !players.includes(here)) return null
  const { name } = song.sections[here]!
  return (
    <p className="also-in">
      Also in <b>{namesInWords(others.map(id => song.sections[id]!))}</b>.{' '}
      <button
        type="button"
        className="word"
        aria-label={`Only here, in ${name}`}
        title={`Changes in ${name} leave the others as they are`}
        onClick={() => onlyHere(viewed, chosen, here, others, tracks)}
      >
        Only here
      </button>
    </p>
  )
}

/** Frees the tracks: in the copy the cues were chosen in, or, in the source, in every copy. The choice stays here. */
function onlyHere(
  viewed: ViewedSong,
  chosen: readonly Chosen[],
  here: string,
  others: readonly string[],
  tracks: readonly string[],
): void {
  const { song } = viewed
  const isSource = chosen[0]!.ref.section === here
  const freed = isSource ? others : [here]
  const told = freed.flatMap(section =>
    tracks
      .filter(track => !song.sections[section]!.sameAs!.freed.includes(track))
      .map((track): Told => ['freeTrack', { song: viewed.id, section, track }]),
  )
  void editTogether(`Only in ${song.sections[here]!.name}`, told)
  if (isSource) return
  const own = viewedSongNow()?.song.sections[here]?.cues ?? {}
  const refs = chosen.flatMap(({ place }): ChosenCue[] => {
    const found = Object.entries(own).find(
      ([, cue]) => cue.track === place.cue.track && cue.at === place.cue.at,
    )
    return found ? [{ section: here, cue: found[0] }] : []
  })
  if (refs.length > 0) choose(refs)
}
