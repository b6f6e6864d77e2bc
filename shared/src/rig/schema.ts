// The rig document: what is owned. Builds, boxes and fixtures by serial; shared by all shows of a user.

import { z } from 'zod'
import { address, hex, id, name, note, share, universe } from '../show/fields.ts'
import { buildElectric, decoder, socketElectric, supply } from './electric.ts'

export const RIG_FORMAT = 'glowchart-rig'
export const RIG_VERSION = 2

/**
 * One DMX channel of a build, in the order of the wire.
 * Colours and `white` belong to a cell (0-based); `intensity` dims the whole fixture; `fixed` is always sent
 * as `value` (0…1), as are a rented head's channels that stay parked.
 */
const channel = z.discriminatedUnion('does', [
  z.object({
    does: z.enum(['red', 'green', 'blue', 'white']),
    cell: z.int().min(0).max(511),
    bits: z.union([z.literal(8), z.literal(16)]).default(8),
  }),
  z.object({ does: z.literal('intensity'), bits: z.union([z.literal(8), z.literal(16)]).default(8) }),
  z.object({
    does: z.literal('fixed'),
    value: share,
    label: name.optional(),
    bits: z.union([z.literal(8), z.literal(16)]).default(8),
  }),
])
export type Channel = z.infer<typeof channel>

/**
 * How a fixture turns a level (0…1) into light (0…1). `linear`: a PWM decoder. `gamma`: light = level^gamma,
 * as a decoder with a built-in curve gives. `toLevels` applies the inverse.
 */
const response = z.discriminatedUnion('curve', [
  z.object({ curve: z.literal('linear') }),
  z.object({ curve: z.literal('gamma'), gamma: z.number().min(1).max(4) }),
])
export type Response = z.infer<typeof response>

export const shapes = ['tube', 'bulb', 'ring', 'letters', 'bar', 'panel', 'line'] as const
export type Shape = (typeof shapes)[number]

const build = z.object({
  name,
  shape: z.enum(shapes),
  /** What a build of letters spells; one letter for a single sign. */
  text: z.string().max(12).optional(),
  /** Outer size in metres: the long side (height of a tube, diameter of a ring) and the other. */
  size: z.object({ long: z.number().min(0.01).max(20), across: z.number().min(0.005).max(20) }),
  cells: z.int().min(1).max(170),
  channels: z.array(channel).min(1).max(512),
  response: response.default({ curve: 'linear' }),
  /** Factors on red, green and blue that make full white look white; 1 leaves the colour alone. */
  whiteBalance: z.tuple([share, share, share]).default([1, 1, 1]),
  ...buildElectric,
  note: note.optional(),
})
export type Build = z.infer<typeof build>

const socket = z.object({
  /** What is written at the plug. */
  label: z.string().min(1).max(12),
  /** Decoder outputs wired to this socket; sockets take consecutive outputs in order. */
  channels: z.int().min(1).max(12).default(3),
  ...socketElectric,
})
export type Socket = z.infer<typeof socket>

const box = z.object({
  name,
  supply: supply.default({ volts: 12, amps: 30, continuousShare: 0.8, efficiency: 0.85, mainsVolts: 230 }),
  decoder,
  universe,
  address,
  /** In the order of the decoder's outputs. */
  sockets: z.array(socket.extend({ id })).min(1).max(64),
})
export type Box = z.infer<typeof box>

const fixture = z.object({
  name,
  build: id,
  serial: z.string().min(1).max(40),
  /** Open faults; they travel with the fixture until closed. */
  faults: z.array(z.object({ at: z.iso.datetime(), what: note })).default([]),
  /** Its last line check: when, and whether it passed. */
  checked: z.object({ at: z.iso.datetime(), passed: z.boolean() }).optional(),
  /** A colour of tape on the cable, for the pack list. */
  tape: hex.optional(),
})
export type Fixture = z.infer<typeof fixture>

export const rigSchema = z.object({
  format: z.literal(RIG_FORMAT),
  version: z.literal(RIG_VERSION),
  id,
  name,
  builds: z.record(id, build),
  boxes: z.record(id, box),
  fixtures: z.record(id, fixture),
})
export type Rig = z.infer<typeof rigSchema>
