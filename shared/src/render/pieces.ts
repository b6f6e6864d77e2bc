// The cues of a song as they stand in it, and pieces of one cue joined again.

import { sameValue } from '../show/diff.ts'
import type { Cue, Song } from '../show/song.ts'
import { beyond, splitCue } from '../show/split.ts'
import { type CuePlace, cuePlaces, type Timeline } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'

/** A cue where it plays: `cue.at` is in ticks from the song's start, its length and fades as the section leaves them. */
export interface Piece {
  readonly id: string
  readonly cue: Cue
  /** Ticks that a gradient over time takes when it does not say: the cue's length before a split or a copy clipped it. */
  readonly whole: number
  /** Swatches replaced, and factor on the level, in a copy of a section. */
  readonly swatches: Readonly<Record<string, string>>
  readonly trim: number
}

/** The places of a song's cues by track, in order of time. @param only of these tracks; null: of all */
export function placesByTrack(
  song: Song,
  timeline: Timeline,
  only: ReadonlySet<string> | null,
): Map<string, CuePlace[]> {
  const tracks = new Map<string, CuePlace[]>()
  for (const place of cuePlaces(song, timeline, only)) {
    const track = tracks.get(place.cue.track)
    if (track) track.push(place)
    else tracks.set(place.cue.track, [place])
  }
  return tracks
}

/** The pieces of a track, in order of start, then id; halves that fit are one again. */
export function piecesOf(song: Song, places: readonly CuePlace[]): Piece[] {
  const pieces = places.map(({ id, section, sourceSection, at, length, cue }): Piece => {
    const copy = section === sourceSection ? undefined : song.sections[section]?.sameAs
    const { fadeIn, fadeOut, ...rest } = cue
    const keptIn = beyond(fadeIn, 0)
    const keptOut = beyond(fadeOut, cue.length - length)
    return {
      id,
      cue: { ...rest, at, length, ...(keptIn && { fadeIn: keptIn }), ...(keptOut && { fadeOut: keptOut }) },
      whole: spanOf(cue) ?? cue.length,
      swatches: copy?.swatches ?? {},
      trim: copy?.trim ?? 1,
    }
  })
  return joinPieces(pieces.sort(byStart))
}

const byStart = (a: Piece, b: Piece): number =>
  a.cue.at - b.cue.at || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)

function joinPieces(pieces: readonly Piece[]): Piece[] {
  const starting = new Map<number, Piece[]>()
  for (const piece of pieces) {
    const same = starting.get(piece.cue.at)
    if (same) same.push(piece)
    else starting.set(piece.cue.at, [piece])
  }
  const used = new Set<Piece>()
  const joined: Piece[] = []
  for (const piece of pieces) {
    if (used.has(piece)) continue
    let whole = piece
    for (;;) {
      const next = (starting.get(whole.cue.at + whole.cue.length) ?? []).find(
        p => !used.has(p) && fit(whole, p),
      )
      if (!next) break
      used.add(next)
      whole = join(whole, next)
    }
    joined.push(whole)
  }
  return joined
}

function join(first: Piece, second: Piece): Piece {
  const { fadeOut: _, ...rest } = first.cue
  const { fadeOut } = second.cue
  const length = (first.cue.length + second.cue.length) as Ticks
  return {
    ...first,
    cue: { ...rest, length, ...(fadeOut && { fadeOut }) },
    whole: spanOf(first.cue) ?? first.cue.length + second.whole,
  }
}

/** True when these are the two that a split of the whole would leave. */
function fit(first: Piece, second: Piece): boolean {
  if (first.trim !== second.trim || !sameValue(first.swatches, second.swatches)) return false
  if (spanOf(first.cue) !== spanOf(second.cue)) return false
  const [before, after] = splitCue(join(first, second).cue, first.cue.length)
  return sameCue(before, first.cue) && sameCue(after, second.cue)
}

const spanOf = ({ light }: Cue): number | undefined => ('look' in light ? light.span : undefined)

/** Equal in all that makes light: names do not matter, and halves of cues that were split before spans were kept have none. */
const sameCue = (a: Cue, b: Cue): boolean => sameValue(bare(a), bare(b))

const bare = ({ name: _, ...cue }: Cue): Omit<Cue, 'name'> =>
  'look' in cue.light ? { ...cue, light: { look: cue.light.look } } : cue
