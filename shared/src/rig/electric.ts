// The electrical side of what is owned, as the rig document holds it: what a build draws, wires, plugs and supplies.

import { z } from 'zod'
import { name, share } from '../show/fields.ts'

/** Amps, or volts, of each colour of a fixture. */
const each = (most: number) => z.number().min(0).max(most)
const colours = z.object({
  red: each(100),
  green: each(100),
  blue: each(100),
  white: each(100).default(0),
})
export type PerColour = z.infer<typeof colours>

/**
 * What a build draws when it is full on, from what its owner knows of it: amps of the whole fixture measured at
 * `volts`; the LEDs of a strip; or a strip's watts a metre at full white, shared alike by its three colours.
 * A strip is cut to whole segments of `inSeries` LEDs.
 */
const draw = z.discriminatedUnion('from', [
  z.object({ from: z.literal('measured'), amps: colours }),
  z.object({
    from: z.literal('strip'),
    metres: z.number().min(0).max(100),
    ledsPerMetre: z.number().min(1).max(2000),
    inSeries: z.int().min(1).max(14).default(3),
    /** Amps of one segment, for each colour. */
    segmentAmps: colours.default({ red: 0.02, green: 0.02, blue: 0.02, white: 0 }),
  }),
  z.object({
    from: z.literal('watts'),
    metres: z.number().min(0).max(100),
    wattsPerMetre: z.number().min(0).max(200),
  }),
])
export type Draw = z.infer<typeof draw>

/** What a contact of a fixture's plug is joined to. */
export const contacts = ['common', 'red', 'green', 'blue', 'white', 'none'] as const

export const buildElectric = {
  /** The volts it is made for. */
  volts: z.number().min(3).max(48).default(12),
  draw: draw.default({ from: 'measured', amps: { red: 0, green: 0, blue: 0, white: 0 } }),
  /**
   * Volts below which each colour stays dark: the forward voltages of the LEDs in series. Three red ones of 2.0 V,
   * three of 3.2 V (from memory); measure your own strip.
   */
  forwardVolts: z
    .object({ red: each(48), green: each(48), blue: each(48), white: each(48) })
    .default({ red: 6, green: 9.6, blue: 9.6, white: 9.6 }),
  /** The plug's contacts in order round it, seen from the solder side. */
  contacts: z.array(z.enum(contacts)).min(2).max(12).default(['common', 'red', 'green', 'blue']),
  kilograms: z.number().min(0).max(500).optional(),
  /** What it is made of; prices are the owner's. */
  parts: z
    .array(z.object({ what: name, count: z.number().min(0).max(10000), price: each(100000).optional() }))
    .max(100)
    .default([]),
}

/** A copper wire by the standard it is sold under: AWG (ASTM B258) or mm² of a flexible conductor (IEC 60228 class 5). */
const wire = z.union([
  z.object({ awg: z.int().min(0).max(40), solid: z.boolean().default(false) }),
  z.object({ mm2: z.number().min(0.05).max(50) }),
])
export type Wire = z.infer<typeof wire>

const cable = z.object({
  /** Metres, one way. */
  length: z.number().min(0).max(100),
  wire,
  conductors: z.int().min(2).max(12),
})
export type Cable = z.infer<typeof cable>

export const socketElectric = {
  cable: cable.default({ length: 6.1, wire: { awg: 16, solid: false }, conductors: 4 }),
  /** Amps that one contact of the plug may carry; four-contact circular plugs are commonly sold as 5 A. */
  contactAmps: z.number().min(0.1).max(100).default(5),
  /** The fuse in the common conductor, A; left out: none. */
  fuse: z.number().min(0.1).max(100).optional(),
}

export const supply = z.object({
  volts: z.number().min(3).max(48),
  amps: z.number().min(0.1).max(500),
  /** The share of its amps that it is loaded with for long; 0.8 is common practice, no source. */
  continuousShare: share.default(0.8),
  /** Share of the mains watts that come out; 0.85 is common practice, no source. */
  efficiency: z.number().min(0.3).max(1).default(0.85),
  mainsVolts: z.union([z.literal(100), z.literal(120), z.literal(230)]).default(230),
})

export const decoder = z.object({
  channels: z.int().min(1).max(512),
  bits: z.union([z.literal(8), z.literal(16)]).default(8),
  ampsPerChannel: z.number().min(0.1).max(100).default(3),
  /** Amps of all channels together; left out: the channels' sum. */
  ampsInAll: z.number().min(0.1).max(500).optional(),
})
