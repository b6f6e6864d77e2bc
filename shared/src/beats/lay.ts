// Lays a song's bars on the beats of a recording: one even tempo, or tempo marks that follow the playing.

import type { Meter, Song, TempoMark } from '../show/song.ts'
import { bpm as bpmRange } from '../show/song.ts'
import { barStart, ticksPerUnit } from '../time/meter.ts'
import { secondsAt } from '../time/tempo.ts'
import { type SectionSpan, type Timeline, timelineOf } from '../time/timeline.ts'
import { TICKS_PER_BEAT, type Ticks } from '../time/units.ts'
import { smoothBeats, steadyBeats } from './steady.ts'

const { minValue: SLOWEST, maxValue: FASTEST } = bpmRange
/** A mark follows where the bars would else be this far from the beats, s: within the 15 ms that are promised. */
const TOLERANCE = 0.012
/** A longer even stretch is looked for so many bars past the last one that fitted. */
const PATIENCE = 16

/** How to change a song so that its bars fit a recording. */
export interface Fit {
  /** Quarter notes a minute before any mark. */
  readonly bpm: number
  /** Where in the recording bar 1 begins, s. */
  readonly start: number
  /** New tempo marks, by section; sections that are copies are not among them. */
  readonly marks: Readonly<Record<string, readonly TempoMark[]>>
  /** The largest distance between a beat and its place on the bars, s, over the part that both have. */
  readonly worst: number
}

/** Ticks of a felt beat: the meter's unit; three of them in 6/8, 9/8 and the like (common practice, no source). */
export const feltBeat = (meter: Meter): Ticks =>
  ((meter.unit >= 8 && meter.beats > 3 && meter.beats % 3 === 0 ? 3 : 1) * ticksPerUnit(meter)) as Ticks

/**
 * Lays bar 1 on a beat.
 * @param beats rising, in seconds of the recording @param downbeat index of the beat on which bar 1 begins
 * @param follow marks wherever the playing leaves an even tempo by more than 12 ms; else one tempo for the whole song
 * @returns null for fewer than two beats
 */
export function layBars(song: Song, beats: readonly number[], downbeat: number, follow: boolean): Fit | null {
  const steady = steadyBeats(beats)
  if (!steady) return null
  const felt = feltBeat(song.meter)
  const smooth = smoothBeats(beats)
  const first = steady.indices[Math.min(beats.length - 1, Math.max(0, downbeat))]!
  const edge = Math.min(8, smooth.length - 1)
  const timeAt = (tick: number): number => {
    const beat = first + tick / felt
    const i = Math.min(smooth.length - 2, Math.max(0, Math.floor(beat)))
    // Before the first beat and after the last the tempo there goes on.
    if (beat < 0) return smooth[0]! + (beat * (smooth[edge]! - smooth[0]!)) / edge
    const last = smooth.length - 1
    if (beat > last) return smooth[last]! + ((beat - last) * (smooth[last]! - smooth[last - edge]!)) / edge
    return smooth[i]! + (beat - i) * (smooth[i + 1]! - smooth[i]!)
  }
  const bare = withMarks(song, {})
  const fitted = follow
    ? following(bare, timeAt)
    : { bpm: held((60 / steady.interval) * (felt / TICKS_PER_BEAT)), marks: marksOf(bare) }
  const start = follow ? timeAt(0) : steady.first + first * steady.interval
  const timeline = timelineOf(withMarks({ ...song, bpm: fitted.bpm }, fitted.marks))
  const lastBeat = Math.min(smooth.length - 1, first + Math.floor(timeline.length / felt))
  let worst = 0
  for (let beat = first; beat <= lastBeat; beat++) {
    const placed = start + secondsAt(timeline.tempo, ((beat - first) * felt) as Ticks)
    worst = Math.max(worst, Math.abs(placed - smooth[beat]!))
  }
  return { ...fitted, start, worst }
}

const held = (bpm: number): number => Math.min(FASTEST!, Math.max(SLOWEST!, bpm))

/** The song with these marks in its own sections, and no other tempo. */
export function withMarks(song: Song, marks: Fit['marks']): Song {
  const sections = Object.entries(song.sections).map(([id, section]) => {
    return [id, section.sameAs ? section : { ...section, tempo: [...(marks[id] ?? [])] }] as const
  })
  return { ...song, sections: Object.fromEntries(sections) }
}

const marksOf = (song: Song): Record<string, TempoMark[]> =>
  Object.fromEntries(
    Object.entries(song.sections).flatMap(([id, section]) => (section.sameAs ? [] : [[id, section.tempo]])),
  )

function following(bare: Song, timeAt: (tick: number) => number): Pick<Fit, 'bpm' | 'marks'> {
  const { sections, meters } = timelineOf(bare)
  const marks = marksOf(bare)
  const origin = timeAt(0)
  const wanted = (tick: number) => timeAt(tick) - origin
  let bpm: number | null = null
  let running = 0
  for (const span of sections) {
    if (span.source !== span.id) continue
    const soFar: Song = withMarks({ ...bare, bpm: bpm ?? bare.bpm }, marks)
    let at = bpm === null ? 0 : secondsAt(timelineOf(soFar).tempo, span.start)
    // After a copy, the tempo that holds is its source's.
    if (sections[span.index - 1]?.source !== sections[span.index - 1]?.id) running = 0
    const edges = barsOf(span, meters)
    for (let from = 0; from < span.bars; ) {
      const start = edges[from]!
      const even = (to: number) => (wanted(edges[to]!) - at) / (edges[to]! - start)
      const reach = Math.max(from + 1, furthest(edges, from, at, even, wanted))
      let pace = even(reach)
      if (running > 0 && furthest(edges, from, at, () => running, wanted) >= reach) pace = running
      else {
        const tempo = held(60 / (pace * TICKS_PER_BEAT))
        pace = 60 / (tempo * TICKS_PER_BEAT)
        if (bpm === null) bpm = tempo
        else marks[span.id]!.push({ at: (start - span.start) as Ticks, bpm: tempo })
        running = pace
      }
      at += pace * (edges[reach]! - start)
      from = reach
    }
  }
  return { bpm: bpm ?? bare.bpm, marks }
}

/** The last bar line up to which an even pace (s a tick) keeps every bar line and half bar where it is wanted. */
function furthest(
  edges: readonly number[],
  from: number,
  at: number,
  paceTo: (to: number) => number,
  wanted: (tick: number) => number,
): number {
  const start = edges[from]!
  let best = from
  for (let to = from + 1; to < edges.length && to - best <= PATIENCE; to++) {
    const pace = paceTo(to)
    const fits = (tick: number) => Math.abs(at + pace * (tick - start) - wanted(tick)) <= TOLERANCE
    let bar = from + 1
    while (bar <= to && fits(edges[bar]!) && fits((edges[bar - 1]! + edges[bar]!) / 2)) bar++
    if (bar > to) best = to
  }
  return best
}

const barsOf = (span: SectionSpan, meters: Timeline['meters']): number[] =>
  Array.from({ length: span.bars + 1 }, (_, i) => barStart(meters, span.firstBar + i))
