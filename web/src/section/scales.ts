// How the values of a section are said, typed and stepped: bars, places in it, meters, tempos and glides.

import type { Meter } from '@glowchart/shared/show/song.ts'
import { barBeatAt, barStart, type MeterMap, ticksPerUnit } from '@glowchart/shared/time/meter.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { type Scale, spanScale } from '../cue/values.ts'

const held = (n: number, least: number, most: number): number => Math.min(most, Math.max(least, n))

/** Whole numbers, said with their noun: "16 bars". */
export const wholeScale = (noun: string, least: number, most: number): Scale<number> => ({
  first: least,
  text: n => (noun === '' ? `${n}` : `${n} ${noun}${n === 1 ? '' : 's'}`),
  number: n => n,
  parse: text => {
    const n = Number.parseInt(text, 10)
    return Number.isFinite(n) ? held(n, least, most) : null
  },
  step: (n, by) => held(n + by, least, most),
})

/** A bar of a section, 0-based, said from 1; `end`: one past the last is offered too, as the end. */
export const barScale = (bars: number, end = false): Scale<number> => ({
  first: 0,
  text: bar => (bar >= bars ? 'the end' : `bar ${bar + 1}`),
  number: bar => bar + 1,
  parse: text => {
    if (end && /end/i.test(text)) return bars
    const n = Number.parseInt(text.replace(/\D+/, ''), 10)
    return Number.isFinite(n) ? held(n - 1, 0, end ? bars : bars - 1) : null
  },
  step: (bar, by) => held(bar + by, 0, end ? bars : bars - 1),
})

const units = [1, 2, 4, 8, 16, 32] as const

export const meterScale: Scale<Meter> = {
  first: { beats: 4, unit: 4 },
  text: ({ beats, unit }) => `${beats}/${unit}`,
  number: ({ beats }) => beats,
  parse: text => {
    const [, beats, under] = /^(\d+)\s*\/\s*(\d+)$/.exec(text) ?? []
    const unit = units.find(u => u === Number(under))
    return unit === undefined ? null : { beats: held(Number(beats), 1, 64), unit }
  },
  step: (meter, by) => ({ ...meter, beats: held(meter.beats + by, 1, 64) }),
}

export const bpmScale: Scale<number> = {
  first: 120,
  text: bpm => `${Math.round(bpm * 100) / 100}`,
  number: bpm => bpm,
  parse: text => {
    const n = Number.parseFloat(text.replace(',', '.'))
    return Number.isFinite(n) ? Math.round(held(n, 20, 400) * 100) / 100 : null
  },
  step: (bpm, by) => held(Math.round(bpm) + by, 20, 400),
}

/** Ticks of a glide; 0 is a step. */
export const glideScale = (bar: Ticks, beat: Ticks): Scale<Ticks> => {
  const span = spanScale(bar, 0, beat)
  return {
    ...span,
    text: length => (length === 0 ? 'at once' : `over ${span.text(length)}`),
    parse: text => (/once/i.test(text) ? ticks(0) : span.parse(text.replace(/over/i, '').trim())),
  }
}

/** A place in a section, in ticks from its start, said as bar.beat of the section. @param last the last tick there is */
export function placeScale(meters: MeterMap, firstBar: number, last: number): Scale<Ticks> {
  const start = barStart(meters, firstBar)
  const place = (tick: number): Ticks => ticks(held(Math.round(tick), 0, last))
  return {
    first: ticks(0),
    text: at => {
      const { bar, beat, tick } = barBeatAt(meters, ticks(start + at))
      return `${bar - firstBar + 1}.${beat + 1}${tick > 0 ? '+' : ''}`
    },
    number: at => barBeatAt(meters, ticks(start + at)).bar - firstBar + 1,
    parse: text => {
      const [, bar, beat] = /^(\d+)(?:[.,](\d+))?/.exec(text) ?? []
      if (bar === undefined) return null
      const into = firstBar + Math.max(0, Number(bar) - 1)
      return place(barStart(meters, into) + Math.max(0, Number(beat ?? 1) - 1) * beatAt(meters, into) - start)
    },
    step: (at, by) => {
      const { bar } = barBeatAt(meters, ticks(start + at))
      return place(at + by * beatAt(meters, bar))
    },
  }
}

const beatAt = (meters: MeterMap, bar: number): number =>
  ticksPerUnit((meters.findLast(segment => segment.bar <= bar) ?? meters[0]!).meter)
