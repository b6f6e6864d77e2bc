// Going with keys: from cue to cue in time and between parts, to what a cue is set by, and into a line or out of it.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { choose, chosenKeys, useChoice } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { say } from '../document/session.ts'
import { placesOf, type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { levelOf, OF_LOOK, putLevel } from '../level/change.ts'
import { songPosition } from '../transport/moves.ts'
import { tell } from './foot.ts'
import { keyOf } from './grip.ts'
import { reach } from './reach.ts'
import { reveal, turn } from './reveal.ts'
import { placeWords } from './snap.ts'

/** Every place of the cues chosen now, in order of time. */
export function chosenPlaces(viewed: ViewedSong): CuePlace[] {
  const chosen = chosenKeys()
  if (chosen.size === 0) return []
  return placesOf(viewed).filter(place => chosen.has(keyOf(place)))
}

/** The next (+1) or last (−1) cue on the same part; without a choice, the first one from the playhead on. */
export function walkInTime(by: 1 | -1, extends_ = false): void {
  const viewed = viewedSongNow()
  if (!viewed) return
  const { song } = viewed
  const all = placesOf(viewed)
  const chosen = chosenPlaces(viewed)
  const from = by === 1 ? chosen.at(-1) : chosen[0]
  if (!from) {
    const here = songPosition()
    go(viewed, all.find(place => place.at + place.length > here) ?? all.at(-1))
    return
  }
  const part = song.tracks[from.cue.track]!.part
  const row = all.filter(place => song.tracks[place.cue.track]?.part === part)
  const next = row[row.findIndex(place => keyOf(place) === keyOf(from) && place.at === from.at) + by]
  go(viewed, next, extends_)
}

/** The cue nearest in time on the next part down (+1) or up (−1) that has one. */
export function walkInParts(by: 1 | -1): void {
  const viewed = viewedSongNow()
  const show = useDocument.getState().show
  const from = viewed && chosenPlaces(viewed)[0]
  if (!viewed || !show || !from) {
    walkInTime(1)
    return
  }
  const { song } = viewed
  const all = placesOf(viewed)
  const order = show.partOrder
  for (let i = order.indexOf(song.tracks[from.cue.track]!.part) + by; order[i] !== undefined; i += by) {
    const row = all.filter(place => song.tracks[place.cue.track]?.part === order[i])
    if (row.length === 0) continue
    const far = (place: CuePlace) => Math.abs(place.at - from.at)
    go(
      viewed,
      row.reduce((best, place) => (far(place) < far(best) ? place : best)),
    )
    return
  }
}

function go(viewed: ViewedSong, place: CuePlace | undefined, extends_ = false): void {
  if (!place) return
  const cue = { section: place.sourceSection, cue: place.id }
  const others = extends_ ? useChoice.getState().cues.filter(c => c.cue !== cue.cue) : []
  choose([...others, cue], place.section)
  reveal(place.at)
  const show = useDocument.getState().show
  const part = show?.parts[viewed.song.tracks[place.cue.track]!.part]?.name ?? ''
  const look =
    'look' in place.cue.light ? show?.looks[place.cue.light.look]?.name : place.cue.light.motion.kind
  say(`${place.cue.name ?? look ?? 'Cue'}, ${part}, ${placeWords(viewed.timeline.meters, place.at)}`)
}

const firstPlace = (): CuePlace | undefined => {
  const viewed = viewedSongNow()
  return viewed ? chosenPlaces(viewed)[0] : undefined
}
const NOTHING = 'No cue is chosen.'

/** Gives the keys to a fade of the chosen cues. */
export function toFade(side: 'fadeIn' | 'fadeOut'): void {
  const place = firstPlace()
  const at = place && (side === 'fadeIn' ? place.at : place.at + place.length - 1)
  reach(side, at ?? null, NOTHING)
}

/** Gives the keys to the level points of the one chosen cue; a constant level gets points at its ends first. */
export function toLevel(): void {
  const viewed = viewedSongNow()
  const place = firstPlace()
  if (!viewed || !place || useChoice.getState().cues.length !== 1) {
    tell(place ? 'Level points are drawn on one cue at a time.' : NOTHING)
    return
  }
  const now = levelOf(viewed, place)
  if (!now) tell(OF_LOOK)
  else {
    if (typeof now.level === 'number') putLevel(viewed.id, place, now.points)
    reach('level', place.at, 'The level has no point here.')
  }
}

export const toColour = (): void => reach('colour', null, NOTHING)
export const toMotion = (): void => reach('motion', null, NOTHING)

/** Opens or folds the line of the chosen cue, or that of the playhead. */
export const turnLine = (): void => turn(firstPlace()?.at ?? songPosition())
