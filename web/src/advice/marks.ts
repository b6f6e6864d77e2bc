// Marks of advice on the chart: one where each of its stretches of bars begins.

import type { Advice, Bars } from '@glowchart/shared/advice/advice.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { create } from 'zustand'
import type { Line } from '../chart/lines.ts'
import { reveal } from '../chart/reveal.ts'
import { choose, useChoice } from '../document/choice.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { keyOf } from './key.ts'

export interface Mark {
  readonly key: string
  readonly advice: Advice
  readonly bars: Bars
}

const none: readonly Mark[] = []

/**
 * The marks of a song by the key of the line that they begin on, in order of bars.
 * @param before what this gave last: a line with the same marks keeps its list, and need not be drawn again
 */
export function marksByLine(
  advice: readonly Advice[],
  lines: readonly Line[],
  before: MarksByLine,
): MarksByLine {
  const byBar = new Map<number, Mark[]>()
  for (const one of advice) {
    for (const bars of one.place.bars ?? []) {
      const mark = { key: `${keyOf(one)} ${bars.from}`, advice: one, bars }
      const same = byBar.get(bars.from)
      if (same) same.push(mark)
      else byBar.set(bars.from, [mark])
    }
  }
  return new Map(
    lines.map(line => {
      const bars = Array.from({ length: line.bars }, (_, i) => line.firstBar + 1 + i)
      const on = bars.flatMap(bar => byBar.get(bar) ?? none)
      const had = before.get(line.key) ?? none
      return [line.key, sameValue(on, had) ? had : on]
    }),
  )
}

export type MarksByLine = ReadonlyMap<string, readonly Mark[]>

/** “Bar 40”, “Bars 12–15”. */
export const barsName = ({ from, to }: Bars): string => (from === to ? `Bar ${from}` : `Bars ${from}–${to}`)

/** The advice whose words stand at the side, by its key, till something else is chosen. */
export const useShownAdvice = create<{ key: string | null }>(() => ({ key: null }))
useChoice.subscribe((now, before) => {
  if (now.cues !== before.cues || now.thing !== before.thing) useShownAdvice.setState({ key: null })
})

/** Opens the line, selects the cues behind the advice, and has its words at the side. */
export function showAdvice(advice: Advice, bars = advice.place.bars?.[0]): void {
  const viewed = viewedSongNow()
  choose(advice.place.cues ?? [])
  useShownAdvice.setState({ key: keyOf(advice) })
  if (viewed && bars) reveal(barStart(viewed.timeline.meters, bars.from - 1))
}
