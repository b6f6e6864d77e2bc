// A song broken into lines like a lead sheet: a section begins a line, and a longer one wraps every so many bars.

import { barStart } from '@glowchart/shared/time/meter.ts'
import type { SectionSpan, Timeline } from '@glowchart/shared/time/timeline.ts'

export interface Line {
  /** Stays the same while the song is edited elsewhere. */
  readonly key: string
  readonly section: SectionSpan
  /** Its first bar, 0-based from the song's start. */
  readonly firstBar: number
  readonly bars: number
  /** Ticks at which its bars start, and its end: bars + 1 of them. */
  readonly edges: readonly number[]
  /** Begins its section; ends it. */
  readonly first: boolean
  readonly last: boolean
}

export function linesOf(timeline: Timeline, barsALine: number): Line[] {
  const lines: Line[] = []
  for (const section of timeline.sections) {
    for (let done = 0; done < section.bars; done += barsALine) {
      const bars = Math.min(barsALine, section.bars - done)
      const firstBar = section.firstBar + done
      lines.push({
        key: `${section.id}+${done}`,
        section,
        firstBar,
        bars,
        edges: Array.from({ length: bars + 1 }, (_, i) => barStart(timeline.meters, firstBar + i)),
        first: done === 0,
        last: done + bars === section.bars,
      })
    }
  }
  return lines
}

export const lineStart = (line: Line): number => line.edges[0]!
export const lineEnd = (line: Line): number => line.edges[line.bars]!

/**
 * How far along a line a tick lies, in bars from its start. Bars have one width on the page whatever their meter, so
 * this is piecewise. Ticks outside the line go on at its first or last bar's scale.
 */
export function barsInto(line: Line, tick: number): number {
  let bar = 0
  while (bar < line.bars - 1 && line.edges[bar + 1]! <= tick) bar++
  const from = line.edges[bar]!
  return bar + (tick - from) / (line.edges[bar + 1]! - from)
}

/** The tick so many bars into a line: the inverse of `barsInto`, held to the line. */
export function tickInto(line: Line, bars: number): number {
  const held = Math.min(line.bars, Math.max(0, bars))
  const bar = Math.min(line.bars - 1, Math.floor(held))
  const from = line.edges[bar]!
  return from + (held - bar) * (line.edges[bar + 1]! - from)
}

/** Index of the line a tick lies in; the first before the song, the last from its end on. −1 without lines. */
export function lineAt(lines: readonly Line[], tick: number): number {
  let low = 0
  let high = lines.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (lineStart(lines[middle]!) <= tick) low = middle
    else high = middle - 1
  }
  return lines.length === 0 ? -1 : low
}
