// How advice writes lists, bars and titles.

import { barBeatAt } from '../time/meter.ts'
import type { Timeline } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'
import type { Bars } from './advice.ts'

/** The bars that [from, to) ticks of a song touches; what lies before the song's start counts to its first bar. */
export function barsOf(timeline: Timeline, from: Ticks, to: Ticks): Bars {
  const first = Math.max(0, barBeatAt(timeline.meters, from).bar)
  const last = barBeatAt(timeline.meters, Math.max(from, to - 1) as Ticks).bar
  return { from: first + 1, to: Math.max(first, last) + 1 }
}

/** Bars in order, those that touch joined. */
export function joinedBars(bars: readonly Bars[]): Bars[] {
  const joined: { from: number; to: number }[] = []
  for (const { from, to } of [...bars].sort((a, b) => a.from - b.from)) {
    const last = joined.at(-1)
    if (last && from <= last.to + 1) last.to = Math.max(last.to, to)
    else joined.push({ from, to })
  }
  return joined
}

/** “bar 4”, “bars 4 to 7”, “bars 4, 9 to 12”. */
export function barsText(bars: readonly Bars[]): string {
  const spans = bars.map(b => (b.from === b.to ? `${b.from}` : `${b.from} to ${b.to}`))
  const single = bars.length === 1 && bars[0]!.from === bars[0]!.to
  return `${single ? 'bar' : 'bars'} ${spans.join(', ')}`
}

/** “a”, “a and b”, “a, b and c”; of more than `most`, the rest as a number. */
export function listText(names: readonly string[], most = 4): string {
  const shown = names.length > most ? [...names.slice(0, most - 1), `${names.length - most + 1} more`] : names
  return shown.length < 2 ? (shown[0] ?? '') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`
}

/** “1 cue”, “3 cues”. */
export const counted = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? '' : 's'}`
