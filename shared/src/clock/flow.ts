// Where the song goes next: carries the positions an engine tells on into the near future, for those who must be early.

import { advance, type Repeats } from '../time/played.ts'
import { secondsAt, ticksAt } from '../time/tempo.ts'
import type { Timeline } from '../time/timeline.ts'
import { type Seconds, type Ticks, ticks } from '../time/units.ts'

/** A written position (ticks) at a time (ms of the engine's clock), while the song moves. */
export interface Fix {
  readonly position: number
  readonly at: number
}

/** What the song may repeat on its way. */
export type Ways = Omit<Repeats, 'sections'>

/**
 * A song on its way: plain data.
 * `rate`: song seconds a second. `reached`: all before this written position has been given out; it is due at `at` ms.
 */
export interface Flow {
  readonly fix: Fix
  readonly rate: number
  readonly reached: { readonly written: Ticks; readonly at: number }
  /** The last fixes that lie on one line: engine ms, song ms since the first. */
  readonly line: readonly { readonly at: number; readonly song: number }[]
  readonly begins: Stretch['begins']
}

/** A stretch of the chart that will sound: written ticks [from, to), `from` due at `at` ms of the engine's clock. */
export interface Stretch {
  readonly from: Ticks
  readonly to: Ticks
  readonly at: number
  readonly rate: number
  /** `on`: where the last one ended. `jump`: a loop or a vamp went back. `start`: there was none, or the song was moved. */
  readonly begins: 'on' | 'jump' | 'start'
}

/** Further than this from the expected place (song ms), a fix is a move of the song, not jitter. */
const MOVED = 40
/** At the end of a repeat, expectation and fix may lie on either side of it (ms). */
const EITHER_SIDE = 5
/** How well fixes must lie on one line to tell the rate together, ms; and how many do at most. */
const ON_LINE = 3
const LINE = 16

/** Begins with a fix. @param rate song seconds a second, until two fixes tell it */
export function flowFrom(fix: Fix, rate: number): Flow {
  const line = [{ at: fix.at, song: 0 }]
  return { fix, rate, reached: { written: ticks(fix.position), at: fix.at }, line, begins: 'start' }
}

/** Takes the next fix; null when the song has been moved, and whoever sounds must begin anew. */
export function flowOn(flow: Flow, fix: Fix, song: Timeline, ways: Ways): Flow | null {
  const elapsed = fix.at - flow.fix.at
  const off = elapsed < 0 ? Number.POSITIVE_INFINITY : offBy(flow, fix, song, ways)
  if (Math.abs(off) > MOVED) return null
  if (elapsed === 0) return flow
  const last = flow.line.at(-1)!
  const line = straight([...flow.line, { at: fix.at, song: last.song + flow.rate * elapsed + off }])
  const rate = slope(line)
  // The song time from the fix to what has been reached is the same; only when it comes is another.
  const left = (flow.reached.at - fix.at) * flow.rate - off
  return { ...flow, fix, rate, line, reached: { ...flow.reached, at: fix.at + left / rate } }
}

/** How far a fix lies ahead of where it was expected, song ms. */
function offBy(flow: Flow, fix: Fix, song: Timeline, ways: Ways): number {
  const elapsed = (fix.at - flow.fix.at) * flow.rate
  const there = secondsAt(song.tempo, ticks(fix.position))
  let least = Number.POSITIVE_INFINITY
  for (const shift of [0, -EITHER_SIDE, EITHER_SIDE]) {
    const { end } = walk(ticks(flow.fix.position), elapsed + shift, song, ways)
    const off = 1000 * (there - secondsAt(song.tempo, end)) + shift
    if (Math.abs(off) < Math.abs(least)) least = off
    if (Math.abs(least) <= EITHER_SIDE) break
  }
  return least
}

type Line = Flow['line']

const slope = (line: Line): number => {
  const [first, last] = [line[0]!, line.at(-1)!]
  return Math.max(0.01, (last.song - first.song) / (last.at - first.at))
}

/** The longest end of a line that is straight: the last two points always are. */
function straight(points: Line): Line {
  let line = points.slice(-LINE)
  while (line.length > 2) {
    const [first, rate] = [line[0]!, slope(line)]
    const isStraight = line.every(p => Math.abs(p.song - first.song - (p.at - first.at) * rate) < ON_LINE)
    if (isStraight) break
    line = line.slice(1)
  }
  return line
}

/** Gives out the stretches that come until a time (ms of the engine's clock); each part of the song once. */
export function flowUntil(
  flow: Flow,
  until: number,
  song: Timeline,
  ways: Ways,
): { flow: Flow; stretches: readonly Stretch[] } {
  const { reached, rate } = flow
  if (until <= reached.at) return { flow, stretches: [] }
  const walked = walk(reached.written, (until - reached.at) * rate, song, ways)
  let { begins } = flow
  const stretches: Stretch[] = []
  for (const { from, to, after } of walked.pieces) {
    if (to > from) stretches.push({ from, to, at: reached.at + after / rate, rate, begins })
    begins = 'jump'
  }
  const left = walked.pieces.length > 1 && walked.pieces.at(-1)!.to === walked.pieces.at(-1)!.from
  return {
    flow: { ...flow, reached: { written: walked.end, at: until }, begins: left ? 'jump' : 'on' },
    stretches,
  }
}

interface Piece {
  readonly from: Ticks
  readonly to: Ticks
  /** Song ms from the walk's start to `from`. */
  readonly after: number
}

/** Goes on for so many song ms from a written position, back at every repeat; stays at the song's end. */
function walk(start: Ticks, ms: number, song: Timeline, { loop, released }: Ways) {
  const pieces: Piece[] = []
  let from = start
  let after = 0
  let passed = released
  for (;;) {
    const seconds = secondsAt(song.tempo, from)
    const to = ticksAt(song.tempo, (seconds + Math.max(0, ms - after) / 1000) as Seconds)
    const step = advance({ written: from, played: from }, ticks(to - from), {
      loop,
      sections: song.sections,
      released: passed,
    })
    const jump = step.jumps[0]
    if (!jump) {
      const end = ticks(Math.min(to, Math.max(start, song.length)))
      pieces.push({ from, to: end, after })
      return { pieces, end }
    }
    // Past the first jump the tempo may be another, so the rest of the way is taken from there.
    if (passed !== null && step.released === null) passed = null
    pieces.push({ from, to: jump.from, after })
    after += 1000 * (secondsAt(song.tempo, jump.from) - seconds)
    from = jump.to
  }
}
