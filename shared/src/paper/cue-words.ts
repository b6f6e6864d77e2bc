// What a cue does, in the words of a cue sheet: motion, colours, level, how often, how it comes and goes.

import type { Colour, Light, MotionKind } from '../light/schema.ts'
import type { Show } from '../show/schema.ts'
import type { Cue, Meter } from '../show/song.ts'
import { ticksPerBar, ticksPerUnit } from '../time/meter.ts'

/** What a part does, said as of many lights. */
const does: Readonly<Record<MotionKind, string>> = {
  sustain: 'hold',
  swell: 'swell',
  chase: 'chase',
  sway: 'sway',
  answer: 'answer each other',
  scatter: 'scatter',
  pulse: 'pulse',
  strobe: 'strobe',
  filament: 'flicker as filaments',
  cascade: 'cascade',
  ring: 'ring',
  drift: 'drift',
}

type Swatches = Show['swatches']

/** “chase, Ember to Cream, every 2 bars, at 60 %, in over 2 beats”. @param meter that holds where the cue begins */
export function cueWords(
  light: Light,
  cue: Pick<Cue, 'fadeIn' | 'fadeOut'>,
  swatches: Swatches,
  meter: Meter,
): string {
  const { kind, rate } = light.motion
  const often =
    kind === 'sustain'
      ? ''
      : 'hz' in rate
        ? `${Number(rate.hz.toFixed(2))} a second`
        : `every ${spanWords(rate.ticks, meter).replace(/^1 /, '')}`
  return [
    does[kind],
    colourWords(light, swatches),
    often,
    levelWords(light.level),
    cue.fadeIn && cue.fadeIn.length > cue.fadeIn.cut ? `in over ${spanWords(cue.fadeIn.length, meter)}` : '',
    cue.fadeOut && cue.fadeOut.length > cue.fadeOut.cut
      ? `out over ${spanWords(cue.fadeOut.length, meter)}`
      : '',
  ]
    .filter(Boolean)
    .join(', ')
}

function colourWords({ colours }: Light, swatches: Swatches): string {
  if (colours.along === 'none') return colourName(colours.colour, swatches)
  return [...new Set(colours.stops.map(stop => colourName(stop.colour, swatches)))].join(' to ')
}

const colourName = (colour: Colour, swatches: Swatches): string =>
  'hex' in colour ? colour.hex : (swatches[colour.swatch]?.name ?? 'no swatch')

function levelWords(level: Light['level']): string {
  const per = (share: number): string => `${Math.round(share * 100)} %`
  if (typeof level === 'number') return level === 1 ? '' : `at ${per(level)}`
  const drawn = level.map(point => per(point.level))
  return `${drawn[0]} to ${drawn.at(-1)}`
}

/** “2 bars”, “1 beat”, “half a beat”, “1.5 beats”. */
function spanWords(ticks: number, meter: Meter): string {
  const bar = ticksPerBar(meter)
  const beat = ticksPerUnit(meter)
  if (ticks % bar === 0) return plural(ticks / bar, 'bar')
  if (ticks * 2 === beat) return 'half a beat'
  return plural(Number((ticks / beat).toFixed(2)), 'beat')
}

const plural = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? '' : 's'}`
