// The tempo map: steps and glides of tempo, and the two-way road between ticks and seconds.

import { type Seconds, TICKS_PER_BEAT, type Ticks } from './units.ts'

/** A stretch of the map from `at` to the next one's `at`; the last has no end. */
export interface TempoSegment {
  readonly at: Ticks
  /** Seconds from tick 0 to `at`, summed over all segments before. */
  readonly seconds: Seconds
  /** Quarter notes a minute at `at`. */
  readonly bpm: number
  /** Change of tempo in BPM a beat; 0 where the tempo is steady. */
  readonly slope: number
}

/** Segments in order of `at`, the first at tick 0; never empty. Plain data. */
export type TempoMap = readonly TempoSegment[]

/** A tempo mark on the song's own ticks. */
export interface TempoChange {
  /** Ticks from the song's start, 0 or more. */
  readonly at: Ticks
  /** The tempo it steps or glides to, above 0. */
  readonly bpm: number
  /** Ticks from `at` until the tempo is reached; left out (or 0), it steps. */
  readonly glide?: Ticks | undefined
  /** Where a glide is cut short and its tempo of that moment stays. */
  readonly until?: Ticks
}

/**
 * Builds the map. `bpm` holds from the start until the first mark. A glide begins at its mark from the tempo then in
 * force; a later mark inside it cuts it at the tempo reached. Of several marks on one tick, each acts on what the one
 * before left: a step and then a glide is a glide from that step.
 */
export function tempoMap(bpm: number, marks: readonly TempoChange[]): TempoMap {
  const segments: TempoSegment[] = [{ at: 0 as Ticks, seconds: 0 as Seconds, bpm, slope: 0 }]
  const sorted = [...marks].sort((a, b) => a.at - b.at)
  for (const [i, { at, bpm: to, glide, until }] of sorted.entries()) {
    if (!glide) {
      startSegment(segments, at, to, 0)
      continue
    }
    const from = bpmAt(segments, at)
    startSegment(segments, at, from, ((to - from) * TICKS_PER_BEAT) / glide)
    const arrival = at + glide
    const end = Math.min(arrival, until ?? arrival) as Ticks
    const next = sorted[i + 1]
    if (next && next.at < end) continue
    startSegment(segments, end, end < arrival ? bpmAt(segments, end) : to, 0)
  }
  return segments
}

function startSegment(segments: TempoSegment[], at: Ticks, bpm: number, slope: number): void {
  const seconds = secondsAt(segments, at)
  if (segments.at(-1)!.at === at) segments.pop()
  segments.push({ at, seconds, bpm, slope })
}

/**
 * Seconds from tick 0 to a tick, fractions included. Before tick 0 the first tempo goes on backwards, after the last
 * mark the last one forwards. Strictly rising.
 *
 * With tempo linear in beats, b(β) = b + sβ, the time of β beats is ∫60/b(β)dβ = 60/s · ln(1 + sβ/b). It is computed as
 * the time at the first tempo times ln(1+x)/x, which stays exact as s goes to 0.
 */
export function secondsAt(map: TempoMap, ticks: Ticks): Seconds {
  const segment = map[segmentAtTick(map, ticks)]!
  const beats = (ticks - segment.at) / TICKS_PER_BEAT
  const steady = (60 * beats) / segment.bpm
  const x = beats < 0 ? 0 : (segment.slope * beats) / segment.bpm
  return (segment.seconds + (x === 0 ? steady : (steady * Math.log1p(x)) / x)) as Seconds
}

/** So near to a whole tick, only floats lie between: far below what can be seen or heard. */
const WHOLE = 1e-8

/**
 * The tick (with its fraction) at a time in seconds: the inverse of `secondsAt`, β(t) = b/s · (e^(st/60) − 1). What the
 * rounding of floats has moved off a whole tick is that tick: cues begin and end on whole ones, and a frame that begins
 * with a cue must neither miss it nor show it a frame early.
 */
export function ticksAt(map: TempoMap, seconds: Seconds): Ticks {
  const segment = map[segmentAtSecond(map, seconds)]!
  const elapsed = seconds - segment.seconds
  const steady = (segment.bpm * elapsed) / 60
  const x = elapsed < 0 ? 0 : (segment.slope * elapsed) / 60
  const at = segment.at + TICKS_PER_BEAT * (x === 0 ? steady : (steady * Math.expm1(x)) / x)
  const whole = Math.round(at)
  return (Math.abs(at - whole) < WHOLE ? whole : at) as Ticks
}

/** Quarter notes a minute at a tick; on the tick of a step, the new tempo. */
export function bpmAt(map: TempoMap, ticks: Ticks): number {
  const segment = map[segmentAtTick(map, ticks)]!
  return segment.bpm + (segment.slope * Math.max(0, ticks - segment.at)) / TICKS_PER_BEAT
}

// Two searches rather than one with an accessor: they run every frame and call nothing.

function segmentAtTick(map: TempoMap, ticks: number): number {
  let low = 0
  let high = map.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (map[middle]!.at <= ticks) low = middle
    else high = middle - 1
  }
  return low
}

function segmentAtSecond(map: TempoMap, seconds: number): number {
  let low = 0
  let high = map.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (map[middle]!.seconds <= seconds) low = middle
    else high = middle - 1
  }
  return low
}
