// A part's name before its row: one press chooses its cues on the line, another one those in the song, with its panel.

import { cuePlaces } from '@glowchart/shared/time/timeline.ts'
import { keyOf } from '../chart/grip.ts'
import { type Line, lineEnd, lineStart } from '../chart/lines.ts'
import { choose, choosePart, chosenKeys } from '../document/choice.ts'
import { viewedSongNow } from '../document/viewed.ts'
import './part.css'

interface Props {
  part: string
  name: string
  line: Line
}

export function PartName({ part, name, line }: Props) {
  const press = () => {
    const viewed = viewedSongNow()
    if (!viewed) return
    const own = cuePlaces(viewed.song, viewed.timeline).filter(
      place => viewed.song.tracks[place.cue.track]?.part === part,
    )
    const refs = (places: typeof own) => [
      ...new Map(places.map(p => [keyOf(p), { section: p.sourceSection, cue: p.id }])).values(),
    ]
    const onLine = own.filter(p => p.at < lineEnd(line) && p.at + p.length > lineStart(line))
    const keys = new Set(onLine.map(keyOf))
    const chosen = chosenKeys()
    const isChosen = keys.size === chosen.size && [...keys].every(key => chosen.has(key))
    if (isChosen) choosePart(part, refs(own))
    else choose(refs(onLine))
  }
  return (
    <button
      type="button"
      className="part-name"
      title="Chooses its cues on this line; pressed again, in the song"
      onClick={press}
    >
      {name}
    </button>
  )
}
