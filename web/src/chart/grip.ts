// What the pointer holds: a cue, one of its edges, the tips of a fade, or an empty place on a part's row.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { keyOfCue } from '../document/choice.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { barsInto, lineEnd, lineStart, tickInto } from './lines.ts'
import type { PlacedLine } from './page.ts'
import { laneOf } from './rows.ts'

export type Handle = 'whole' | 'start' | 'end' | 'fadeIn' | 'fadeOut'

export type Grip =
  | { readonly on: 'cue'; readonly place: CuePlace; readonly part: string; readonly handle: Handle }
  /** `track`: the one whose lane it is, where the part has several. */
  | { readonly on: 'row'; readonly part: string; readonly track: string | null }

/** An edge, a tip is held within this, px. */
const REACH = 6

export const keyOf = (place: Pick<CuePlace, 'sourceSection' | 'id'>): string =>
  keyOfCue({ section: place.sourceSection, cue: place.id })

/** The part whose row a height lies in, or lies nearest to. */
export function partAt(at: PlacedLine, y: number, near = false): string | null {
  const into = y - at.fieldTop - at.head
  const row =
    at.rows.find(r => into >= r.y && into < r.y + r.height) ??
    (near ? (into < 0 ? at.rows[0] : at.rows.findLast(r => into >= r.y)) : undefined)
  return row?.part.part ?? null
}

/** The track whose lane a height lies in; null where the part has no more than one. */
export function trackAt(at: PlacedLine, y: number): string | null {
  const into = y - at.fieldTop - at.head
  const row = at.rows.find(r => into >= r.y && into < r.y + r.height)
  return row?.lanes.find(lane => into >= lane.y && into < lane.y + lane.height)?.track ?? null
}

/**
 * What is held at a place of a line; null between the rows.
 * Where several cues lie, a chosen one comes first, then the one played over the others. A chosen cue's edges are
 * held from outside too, and the corners of its brackets are its fades.
 */
export function gripAt(
  { song }: ViewedSong,
  places: readonly CuePlace[],
  chosen: ReadonlySet<string>,
  at: PlacedLine,
  barWidth: number,
  x: number,
  y: number,
): Grip | null {
  const part = partAt(at, y, !at.open && y > at.fieldTop + at.head)
  const row = at.rows.find(r => r.part.part === part)
  if (part === null || !row) return null
  const { line } = at
  const track = trackAt(at, y)
  const lane = laneOf(row, track)
  const top = at.fieldTop + at.head + lane.y
  const corner = Math.min(9, lane.height / 3)
  const atCorner = y < top + corner || y > top + lane.height - corner
  let best: Grip | null = null
  let bestRank = -1
  for (const place of places) {
    if (place.at >= lineEnd(line) || place.at + place.length <= lineStart(line)) continue
    if (song.tracks[place.cue.track]?.part !== part || (track ?? place.cue.track) !== place.cue.track)
      continue
    const isChosen = chosen.has(keyOf(place))
    const handle = handleOf(place, at, barWidth, x, isChosen, atCorner)
    if (!handle) continue
    const tick = tickInto(line, x / barWidth)
    // Where two chosen cues touch, each side of the line is its own cue's.
    const isInside = tick >= place.at && tick < place.at + place.length
    const rank = (isChosen ? 10_000 : 0) + (isInside ? 5_000 : 0) + song.trackOrder.indexOf(place.cue.track)
    if (rank < bestRank) continue
    bestRank = rank
    best = { on: 'cue', place, part, handle }
  }
  return best ?? { on: 'row', part, track }
}

function handleOf(
  place: CuePlace,
  { line }: PlacedLine,
  barWidth: number,
  x: number,
  chosen: boolean,
  atCorner: boolean,
): Handle | null {
  const px = (tick: number) => barsInto(line, tick) * barWidth
  const stop = place.at + place.length
  const opens = place.at >= lineStart(line)
  const closes = stop <= lineEnd(line)
  const from = opens ? px(place.at) : 0
  const to = closes ? px(stop) : line.bars * barWidth
  const reach = Math.min(REACH, (to - from) / 4)
  const { fadeIn, fadeOut } = place.cue
  if (chosen && atCorner) {
    const tip = fadeIn ? place.at + fadeIn.length - fadeIn.cut : place.at
    if (tip >= lineStart(line) && Math.abs(x - px(tip) - (tip === place.at ? reach : 0)) <= reach) {
      return 'fadeIn'
    }
    const tail = fadeOut ? stop - fadeOut.length + fadeOut.cut : stop
    if (tail <= lineEnd(line) && Math.abs(x - px(tail) + (tail === stop ? reach : 0)) <= reach)
      return 'fadeOut'
  }
  const outside = chosen ? REACH : 0
  if (x < from - (opens ? outside : 0) || x > to + (closes ? outside : 0)) return null
  if (opens && x < from + reach) return 'start'
  if (closes && x > to - reach) return 'end'
  return 'whole'
}
