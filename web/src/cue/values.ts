// How the values of a cue are said, typed and stepped: shares, note values, Hz, spans in bars and beats.

import type { Motion } from '@glowchart/shared/light/schema.ts'
import { TICKS_PER_BEAT, type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import type { FigureProps } from '../ui/Figure.tsx'

/** What a figure needs to know about one kind of value. */
export type Scale<T> = Pick<FigureProps<T>, 'first' | 'text' | 'number' | 'parse' | 'step'>

export type Rate = Motion['rate']

const held = (n: number, least: number, most: number): number => Math.min(most, Math.max(least, n))
const rounded = (n: number, places = 2): number => Number(n.toFixed(places))
/** The number that a text begins with; a comma is a point. */
const numberIn = (text: string): number | null => {
  const n = Number.parseFloat(text.replace(',', '.'))
  return Number.isFinite(n) ? n : null
}

/** 0…1, said in per cent. */
export const shareScale: Scale<number> = {
  first: 0.5,
  text: v => `${Math.round(v * 100)} %`,
  number: v => Math.round(v * 100),
  parse: text => {
    const n = numberIn(text)
    return n === null ? null : held(n / 100, 0, 1)
  },
  step: (v, n) => rounded(held(v + n / 100, 0, 1)),
}

/** A channel of a colour, 0…255. */
export const byteScale: Scale<number> = {
  first: 128,
  text: String,
  number: v => v,
  parse: text => {
    const n = numberIn(text)
    return n === null ? null : Math.round(held(n, 0, 255))
  },
  step: (v, n) => held(v + n, 0, 255),
}

/** How many of `noun` lie along the part; 0 is all together. */
export const countScale = (noun: string, most: number): Scale<number> => ({
  first: 1,
  text: v => (v === 0 ? 'together' : `${rounded(v)} ${v === 1 ? noun : `${noun}s`}`),
  number: v => v,
  parse: text => {
    const n = text.startsWith('tog') ? 0 : numberIn(text)
    return n === null ? null : held(n, 0, most)
  },
  step: (v, n) => rounded(held(v + n / 10, 0, most), 1),
})

/** Another pattern of the same kind. */
export const seedScale: Scale<number> = {
  first: 0,
  text: v => `no. ${v + 1}`,
  number: v => v + 1,
  parse: text => {
    const n = numberIn(text.replace('no.', ''))
    return n === null ? null : Math.round(held(n - 1, 0, 65535))
  },
  step: (v, n) => held(v + n, 0, 65535),
}

/** Note values a cycle may take, in quarter notes. */
const notes: readonly (readonly [string, number])[] = [
  ['1/16', 0.25],
  ['1/8 triplet', 1 / 3],
  ['1/8', 0.5],
  ['1/4 triplet', 2 / 3],
  ['1/4', 1],
  ['1/4 dotted', 1.5],
  ['1/2', 2],
  ['1/2 dotted', 3],
]

/** A cycle in note values or bars, or in Hz. @param bar ticks of a bar where the cue stands */
export function rateScale(bar: Ticks): Scale<Rate> {
  const bars = [1, 2, 3, 4, 6, 8].map((n): readonly [string, number] => [
    n === 1 ? '1 bar' : `${n} bars`,
    (n * bar) / TICKS_PER_BEAT,
  ])
  const shortest = bars[0]![1]
  const ladder = [...notes.filter(([, beats]) => beats < shortest), ...bars].map(
    ([says, beats]) => [says, ticks(Math.round(beats * TICKS_PER_BEAT))] as const,
  )
  return {
    first: { ticks: bar },
    text: rate =>
      'hz' in rate
        ? `${rounded(rate.hz)} Hz`
        : (ladder.find(([, length]) => length === rate.ticks)?.[0] ?? spanText(rate.ticks, bar)),
    number: rate => ('hz' in rate ? rate.hz : rate.ticks / TICKS_PER_BEAT),
    parse: text => {
      const n = numberIn(text)
      if (n !== null && /hz/i.test(text)) return { hz: held(n, 0.01, 25) }
      const named = ladder.find(([says]) => says === text)
      if (named) return { ticks: named[1] }
      const whole = /^(\d+)\s*\/\s*(\d+)/.exec(text)
      if (whole) {
        const length = Math.round((4 * TICKS_PER_BEAT * Number(whole[1])) / Number(whole[2]))
        return length >= 1 && Number.isFinite(length) ? { ticks: ticks(length) } : null
      }
      const span = spanIn(text, bar)
      return span === null || span < 1 ? null : { ticks: span }
    },
    step: (rate, n) => {
      if ('hz' in rate) return { hz: rounded(held(rate.hz + n / 10, 0.1, 25)) }
      let at = ladder.findIndex(([, length]) => length >= rate.ticks)
      if (at < 0) at = ladder.length - 1
      // The longer the cycle, the slower: up is faster.
      return { ticks: ladder[held(at - n, 0, ladder.length - 1)]![1] }
    },
  }
}

const plural = (n: number, noun: string): string => `${rounded(n)} ${noun}${rounded(n) === 1 ? '' : 's'}`

/** "8 bars", "1.5 bars", "3 beats"; a beat is a quarter note. */
export const spanText = (span: number, bar: Ticks): string =>
  span >= bar && (4 * span) % bar === 0 ? plural(span / bar, 'bar') : plural(span / TICKS_PER_BEAT, 'beat')

function spanIn(text: string, bar: Ticks): Ticks | null {
  if (/^none/i.test(text)) return ticks(0)
  const n = numberIn(text)
  return n === null || n < 0 ? null : ticks(Math.round(n * (/bar/i.test(text) ? bar : TICKS_PER_BEAT)))
}

/** A span in beats: `least` ticks or more, `by` a step. 0 is none. */
export const spanScale = (bar: Ticks, least: number, by: number): Scale<Ticks> => ({
  first: bar,
  text: v => (v === 0 ? 'none' : spanText(v, bar)),
  number: v => rounded(v / TICKS_PER_BEAT),
  parse: text => {
    const span = spanIn(text, bar)
    return span === null ? null : ticks(held(span, least, 1e9))
  },
  step: (v, n) => ticks(held(v + n * by, least, 1e9)),
})
