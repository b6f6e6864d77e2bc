// A draft: what a drag on the chart would do if it were let go now, as spans to draw, words for the nib, and edits.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { ChosenCue } from '../document/choice.ts'
import type { Told } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { type Grip, keyOf } from './grip.ts'
import { lengthWords, placeWords } from './snap.ts'
import { stretchOf } from './stretch.ts'
import { copied, newCue, trackOf } from './written.ts'

export interface Span {
  readonly part: string
  /** The lane it is drawn in, where the part has several tracks. */
  readonly track: string | null
  readonly from: number
  readonly to: number
  /** Fades in ticks, where the drag is about them. */
  readonly fadeIn?: number
  readonly fadeOut?: number
}

export interface Draft {
  readonly spans: readonly Span[]
  /** Where the nib stands, and what it says. */
  readonly at: number
  readonly says: string
  readonly name: string | null
  readonly edits: readonly Told[]
  /** What is chosen when it is done; null: as before. */
  readonly chooses: readonly ChosenCue[] | null
}

/** What a drag is made of. */
export interface Drag {
  readonly show: Show
  readonly viewed: ViewedSong
  /** Places as they were when the drag began. */
  readonly grip: Grip
  /** Every place of the chosen cues; with it the held one. */
  readonly held: readonly CuePlace[]
  /** Where the pointer went down, and where it is now; ticks. */
  readonly from: number
  readonly to: number
  /** The part under the pointer now, and its track there if it has several. */
  readonly part: string
  readonly track: string | null
  readonly copies: boolean
  readonly changesPart: boolean
  /** Snaps a place on the chart. */
  readonly snap: (tick: number) => number
}

const SHORTEST = 60

export function draftOf(drag: Drag): Draft | null {
  const { grip } = drag
  if (grip.on === 'row') return drawn(drag, grip.part, grip.track)
  if (grip.handle === 'whole') return moved(drag, grip.place)
  if (grip.handle === 'start' || grip.handle === 'end')
    return stretchOf(drag, grip.place, grip.handle) ?? resized(drag, grip.place, grip.part, grip.handle)
  return faded(drag, grip.place, grip.part, grip.handle)
}

function drawn(drag: Drag, part: string, track: string | null): Draft | null {
  const { show, viewed, from, to, snap } = drag
  const start = Math.max(0, snap(Math.min(from, to)))
  const end = Math.min(viewed.timeline.length, snap(Math.max(from, to)))
  if (end - start < SHORTEST) return null
  const { edits, ref } = newCue(show, viewed, part, start, end - start, track)
  const { meters } = viewed.timeline
  return {
    spans: [{ part, track, from: start, to: end }],
    at: to < from ? start : end,
    says: `${placeWords(meters, start)}, ${lengthWords(meters, start, end - start)}`,
    name: null,
    edits,
    chooses: [ref],
  }
}

function moved(drag: Drag, place: CuePlace): Draft | null {
  const { show, viewed, held, snap, copies, changesPart } = drag
  const { song, timeline } = viewed
  // Not before the song: what of a cue is there is not heard.
  const least = -Math.min(...held.map(p => p.at))
  const by = changesPart ? 0 : Math.max(least, snap(place.at + drag.to - drag.from) - place.at)
  const from = song.tracks[place.cue.track]!.part
  const part = changesPart ? drag.part : from
  const lane = changesPart ? drag.track : null
  const stays = part === from && (lane ?? place.cue.track) === place.cue.track
  if (by === 0 && stays) return null
  const track = stays ? null : lane === null ? trackOf(viewed, part) : { track: lane, edits: [] }
  const spans = held.map(p => ({
    part: stays ? song.tracks[p.cue.track]!.part : part,
    track: track?.track ?? p.cue.track,
    from: p.at + by,
    to: p.at + by + p.length,
  }))
  const says = stays ? `to ${placeWords(timeline.meters, place.at + by)}` : laneWords(show, song, part, lane)
  const draft = { spans, at: place.at + by, says, name: null }
  const refs = refsOf(held)
  const before = track?.edits ?? []
  if (copies) {
    const { edits, refs: made } = copied(viewed, refs, by, track?.track)
    return { ...draft, name: 'Copy cues', edits: [...before, ...edits], chooses: made }
  }
  const args = { song: viewed.id, cues: refs, by: ticks(by), ...(track && { track: track.track }) }
  return { ...draft, edits: [...before, ['moveCues', args]], chooses: null }
}

function resized(
  { viewed, from, to, snap }: Drag,
  place: CuePlace,
  part: string,
  handle: 'start' | 'end',
): Draft | null {
  const stop = place.at + place.length
  const edge = snap((handle === 'start' ? place.at : stop) + to - from)
  const start = handle === 'start' ? Math.max(0, Math.min(edge, stop - SHORTEST)) : place.at
  const end = handle === 'end' ? Math.max(edge, place.at + SHORTEST) : stop
  if (start === place.at && end === stop) return null
  const raw = viewed.song.sections[place.sourceSection]!.cues[place.id]!
  const { meters } = viewed.timeline
  // Counted in what changes: a copy may show a cue cut off.
  const at = raw.at + start - place.at
  const length = raw.length + (end - start) - place.length
  return {
    spans: [{ part, track: place.cue.track, from: start, to: end }],
    at: handle === 'start' ? start : end,
    says: `${handle === 'start' ? 'from' : 'to'} ${placeWords(meters, handle === 'start' ? start : end)}, ${lengthWords(meters, start, end - start)}`,
    name: null,
    edits: [
      [
        'resizeCue',
        {
          song: viewed.id,
          section: place.sourceSection,
          cue: place.id,
          at: ticks(at),
          length: ticks(length),
        },
      ],
    ],
    chooses: null,
  }
}

function faded(
  { viewed, from, to, snap }: Drag,
  place: CuePlace,
  part: string,
  handle: 'fadeIn' | 'fadeOut',
): Draft | null {
  const raw = viewed.song.sections[place.sourceSection]!.cues[place.id]!
  const old = raw[handle]
  const seen = old ? old.length - old.cut : 0
  const stop = place.at + place.length
  const tip = snap((handle === 'fadeIn' ? place.at + seen : stop - seen) + to - from)
  const length = Math.round(
    Math.min(place.length, Math.max(0, handle === 'fadeIn' ? tip - place.at : stop - tip)),
  )
  if (length === seen) return null
  const { meters } = viewed.timeline
  const fade = length === 0 ? null : { length: ticks(length), ...(old && { curve: old.curve }) }
  return {
    spans: [{ part, track: place.cue.track, from: place.at, to: stop, [handle]: length }],
    at: handle === 'fadeIn' ? place.at + length : stop - length,
    says: `fade ${handle === 'fadeIn' ? 'in' : 'out'} ${length === 0 ? 'off' : lengthWords(meters, place.at, length)}`,
    name: null,
    edits: [
      [
        'setCueFades',
        { song: viewed.id, cues: [{ section: place.sourceSection, cue: place.id }], [handle]: fade },
      ],
    ],
    chooses: null,
  }
}

/** The cues behind places: one each, however often a link shows it. */
function refsOf(places: readonly CuePlace[]): ChosenCue[] {
  const refs = new Map(places.map(p => [keyOf(p), { section: p.sourceSection, cue: p.id }]))
  return [...refs.values()]
}

/** "Tubes", or "Tubes, track 2" where it has several. */
function laneWords(show: Show, song: Song, part: string, track: string | null): string {
  const { name } = show.parts[part]!
  if (track === null) return name
  const own = song.trackOrder.filter(other => song.tracks[other]!.part === part)
  return `${name}, track ${own.indexOf(track) + 1}`
}
