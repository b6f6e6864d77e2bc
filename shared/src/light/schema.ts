// What a cue's light is made of: level, colours and motion. Used by cues and by looks.

import { z } from 'zod'
import { hex, id, length, share, ticks } from '../show/fields.ts'

/** A swatch of the show, or a literal colour. */
const colour = z.union([z.object({ swatch: id }), z.object({ hex })])
export type Colour = z.infer<typeof colour>

/**
 * One colour, or a gradient: along the `part` (0…1 of its order), over `time` (0…1 of `length` ticks from the
 * cue's origin, default the cue's own length), or with the `motion` (0 its valley, 1 its crest).
 * Colours between two stops mix in OKLab.
 */
const colours = z.discriminatedUnion('along', [
  z.object({ along: z.literal('none'), colour }),
  z.object({
    along: z.enum(['part', 'time', 'motion']),
    stops: z
      .array(z.object({ at: share, colour }))
      .min(2)
      .max(16),
    length: length.optional(),
  }),
])
export type Colours = z.infer<typeof colours>

export const motionKinds = [
  'sustain',
  'swell',
  'chase',
  'sway',
  'answer',
  'scatter',
  'pulse',
  'strobe',
  'filament',
  'cascade',
  'ring',
  'drift',
] as const
export type MotionKind = (typeof motionKinds)[number]

export const directions = ['forward', 'backward', 'outward', 'inward'] as const

/** See `render/motion/` for each kind's formula. */
const motion = z.object({
  kind: z.enum(motionKinds),
  /** One cycle in ticks (a note value), or cycles a second. */
  rate: z
    .union([z.object({ ticks: length }), z.object({ hz: z.number().min(0.01).max(25) })])
    .default({ ticks: 3840 as never }),
  /** How many cycles lie along the part at one moment; 0: all together. */
  spread: z.number().min(0).max(8).default(1),
  direction: z.enum(directions).default('forward'),
  /** Share of the cycle (or of the part) that is lit. */
  duty: share.default(0.5),
  /** 0: hard edges; 1: the softest the motion has. */
  shape: share.default(0.5),
  /** Lowest level of the motion, as a share of the cue's level. */
  floor: share.default(0),
  /** Acts on whole fixtures or on single cells. */
  by: z.enum(['fixture', 'cell']).default('fixture'),
  /** Chooses another random pattern of the same kind. */
  seed: z.int().min(0).max(65535).default(0),
})
export type Motion = z.infer<typeof motion>

/** A level in L* (0…1 for L* 0…100), or points in ticks from the cue's start, interpolated in L*. */
const level = z.union([
  share,
  z
    .array(z.object({ at: ticks, level: share }))
    .min(1)
    .max(256),
])
export type Level = z.infer<typeof level>

/** A cue's light. */
export const lightSchema = z.object({ level, colours, motion })
export type Light = z.infer<typeof lightSchema>
