// The cues of a line as they are engraved: brackets, hairpins and names, cut where the line begins and ends.

import type { MotionKind } from '@glowchart/shared/light/schema.ts'
import { type Overlap, overlapsOf } from '@glowchart/shared/render/overlap.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { barBeatAt } from '@glowchart/shared/time/meter.ts'
import type { CuePlace, Timeline } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { keyOf } from './grip.ts'
import { barsInto, type Line, lineEnd, lineStart } from './lines.ts'

export interface CuePiece {
  readonly key: string
  /** The cue it is of, as `keyOf` names it: one on every line and in every copy it is seen in. */
  readonly cue: string
  readonly part: string
  readonly track: string
  /** Bars from the line's start, held to the line. */
  readonly from: number
  readonly to: number
  /** The cue begins, ends on this line. */
  readonly opens: boolean
  readonly closes: boolean
  /** Where its fades reach full level and leave it, in bars from the line's start; null without one. */
  readonly fadeIn: number | null
  readonly fadeOut: number | null
  /** Where a fade begins (or ends) off its cue's edge: what a split leaves. */
  readonly fadeInTip: number
  readonly fadeOutTip: number
  /** Where it takes over from cues before it on its track, in bars from the line's start; null where none is. */
  readonly crossfade: { readonly from: number; readonly to: number } | null
  /** On the plate; empty when the look's name over the line says it. */
  readonly plate: string
  /** All of it in words. */
  readonly label: string
}

export interface LookName {
  readonly tick: number
  /** Bars from the line's start. */
  readonly at: number
  readonly name: string
  /** Ids of the looks that begin there. */
  readonly looks: readonly string[]
}

/** What names are taken from. */
export type Names = Pick<Show, 'parts' | 'swatches' | 'looks'>

/** What each place does with those before it on its track, as the renderer has it. */
function overlapsIn(places: readonly CuePlace[]): ReadonlyMap<CuePlace, Overlap> {
  const tracks = new Map<string, CuePlace[]>()
  for (const place of places) {
    const row = tracks.get(place.cue.track)
    if (row) row.push(place)
    else tracks.set(place.cue.track, [place])
  }
  const found = new Map<CuePlace, Overlap>()
  for (const row of tracks.values()) {
    const overlaps = overlapsOf(row.map(({ cue, at, length }) => ({ ...cue, at, length })))
    for (const [i, place] of row.entries()) found.set(place, overlaps[i]!)
  }
  return found
}

/** The pieces of all cues that sound on a line, in order of time. */
export function piecesOn(
  names: Names,
  tracks: Song['tracks'],
  timeline: Timeline,
  places: readonly CuePlace[],
  line: Line,
): CuePiece[] {
  const start = lineStart(line)
  const end = lineEnd(line)
  const overlaps = overlapsIn(places)
  return places.flatMap((place, i) => {
    const track = tracks[place.cue.track]
    if (!track || place.at >= end || place.at + place.length <= start) return []
    return [pieceOf(names, timeline, place, overlaps.get(place)!, track.part, line, i)]
  })
}

function pieceOf(
  names: Names,
  timeline: Timeline,
  place: CuePlace,
  overlap: Overlap,
  part: string,
  line: Line,
  i: number,
): CuePiece {
  const { cue } = place
  const stop = place.at + place.length
  const held = (tick: number) => Math.min(line.bars, Math.max(0, barsInto(line, tick)))
  const opens = place.at >= lineStart(line)
  const closes = stop <= lineEnd(line)
  // A fade that the crossfade takes the place of is not one more.
  const fadeIn = cue.fadeIn && overlap.fadeIn.length > overlap.fadeIn.cut ? cue.fadeIn : undefined
  const fadeOut = cue.fadeOut && overlap.fadeOut.length > overlap.fadeOut.cut ? cue.fadeOut : undefined
  return {
    key: `${place.section}.${place.id}.${i}`,
    cue: keyOf(place),
    part,
    track: cue.track,
    from: held(place.at),
    to: held(stop),
    opens,
    closes,
    fadeIn: fadeIn ? barsInto(line, place.at + fadeIn.length - fadeIn.cut) : null,
    fadeOut: fadeOut ? barsInto(line, stop - fadeOut.length + fadeOut.cut) : null,
    fadeInTip: fadeIn ? barsInto(line, place.at - fadeIn.cut) : 0,
    fadeOutTip: fadeOut ? barsInto(line, stop + fadeOut.cut) : 0,
    crossfade:
      overlap.overlap === 'crossfade' && overlap.crossfadeEnd > lineStart(line)
        ? { from: barsInto(line, place.at), to: barsInto(line, overlap.crossfadeEnd) }
        : null,
    plate: opens ? (cue.name ?? ('look' in cue.light ? '' : sentence(cue.light.motion.kind))) : '',
    label: [
      labelOf(names, timeline, place, part),
      ...(overlap.overlap === 'crossfade' ? [`crossfade ${beats(overlap.crossfadeEnd - place.at)}`] : []),
    ].join(', '),
  }
}

const sentence = (kind: MotionKind): string => kind[0]!.toUpperCase() + kind.slice(1)

/** "Wingbeat, Tubes, bar 25 to 33, chase, Ember to Cream, fade in 2 beats". */
function labelOf(names: Names, timeline: Timeline, place: CuePlace, part: string): string {
  const { cue } = place
  const look = 'look' in cue.light ? names.looks[cue.light.look] : undefined
  const light = 'look' in cue.light ? look?.parts[part] : cue.light
  const words = [
    cue.name ?? look?.name ?? (light ? sentence(light.motion.kind) : 'Cue'),
    names.parts[part]?.name ?? part,
  ]
  words.push(`bar ${placeName(timeline, place.at)} to ${placeName(timeline, place.at + place.length)}`)
  if (light) {
    words.push(light.motion.kind)
    const stops =
      light.colours.along === 'none' ? [light.colours.colour] : light.colours.stops.map(s => s.colour)
    words.push(
      stops.map(c => ('hex' in c ? c.hex : (names.swatches[c.swatch]?.name ?? 'no swatch'))).join(' to '),
    )
  }
  if (cue.fadeIn?.length) words.push(`fade in ${beats(cue.fadeIn.length)}`)
  if (cue.fadeOut?.length) words.push(`fade out ${beats(cue.fadeOut.length)}`)
  return words.join(', ')
}

const beats = (t: number): string => {
  const n = Math.round((t / 960) * 100) / 100
  return `${n} ${n === 1 ? 'beat' : 'beats'}`
}

/** A written position as it is read: bar, and beat when it is not the first. */
function placeName(timeline: Timeline, tick: number): string {
  const { bar, beat } = barBeatAt(timeline.meters, ticks(tick))
  return beat === 0 ? `${bar + 1}` : `${bar + 1}.${beat + 1}`
}

/**
 * The names of looks over a line, where chord symbols would stand: once for all parts that begin it together, and
 * not again while nothing else has begun.
 */
export function lookNamesOf(names: Names, places: readonly CuePlace[], line: Line): LookName[] {
  const begun = new Map<number, Set<string>>()
  for (const { at, cue } of places) {
    if (at < lineStart(line) || at >= lineEnd(line) || !('look' in cue.light)) continue
    if (names.looks[cue.light.look]) begun.set(at, (begun.get(at) ?? new Set()).add(cue.light.look))
  }
  let last = ''
  return [...begun].flatMap(([tick, set]) => {
    const looks = [...set]
    const name = looks.map(look => names.looks[look]!.name).join(', ')
    if (name === last) return []
    last = name
    return [{ tick, at: barsInto(line, tick), name, looks }]
  })
}
