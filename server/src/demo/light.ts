// How the demo writes light: note values, colours from swatches, motions.

import type { lightSchema, MotionKind } from '@glowchart/shared/light/schema.ts'
import type { SwatchId } from './swatches.ts'
import type { Written } from './written.ts'

export type LightText = Written<typeof lightSchema>
type Colours = LightText['colours']
type Motion = LightText['motion']

/** Note values in ticks. */
export const WHOLE = 3840
export const HALF = 1920
export const QUARTER = 960
export const EIGHTH = 480

export const light = (level: LightText['level'], colours: Colours, motion: Motion): LightText => ({
  level,
  colours,
  motion,
})

export const only = (swatch: SwatchId): Colours => ({ along: 'none', colour: { swatch } })
/** A gradient from the part's first fixture to its last. */
export const across = (...swatches: SwatchId[]): Colours => ({ along: 'part', stops: stops(swatches) })
/** A gradient from the motion's valley to its crest. */
export const rising = (...swatches: SwatchId[]): Colours => ({ along: 'motion', stops: stops(swatches) })
/** A gradient over the time of the cue. */
export const turning = (...swatches: SwatchId[]): Colours => ({ along: 'time', stops: stops(swatches) })

const stops = (swatches: readonly SwatchId[]) =>
  swatches.map((swatch, i) => ({ at: i / (swatches.length - 1), colour: { swatch } }))

export const still: Motion = { kind: 'sustain' }
/** A motion with one cycle every so many ticks. */
export const every = (ticks: number, kind: MotionKind, more: Partial<Motion> = {}): Motion => ({
  kind,
  rate: { ticks },
  ...more,
})
