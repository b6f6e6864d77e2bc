// What two paired laptops tell one another ten times a second: the heartbeat of the one that leads, the reply of the other.

import { z } from 'zod'
import type { TransportState } from '../clock/transport.ts'
import { liveSchema } from '../render/live.ts'
import { id, universe } from '../show/fields.ts'
import type { Ticks } from '../time/units.ts'

/** Heartbeats a second. */
export const BEAT_HZ = 10

const place = z.number().min(-1e9).max(1e9) as unknown as z.ZodType<Ticks>
const count = z.int().min(0).max(1e9)
const term = z.int().min(0).max(1e9)
/** SHA-256 in hex; empty while it is being made. */
const hash = z.string().regex(/^([0-9a-f]{64})?$/)

const transportStateSchema: z.ZodType<TransportState> = z.object({
  song: id.nullable(),
  look: id.nullable(),
  place: z.int().min(0).max(9999).nullable(),
  playing: z.boolean(),
  source: z.enum(['internal', 'midi', 'mtc']),
  speed: z.number().min(0.01).max(100),
  loop: z.object({ from: place, to: place, once: z.boolean().optional() }).nullable() as z.ZodType<
    TransportState['loop']
  >,
  repeated: z.object({ from: place, times: count }).nullable(),
  released: id.nullable(),
  anchor: z.object({ frame: z.number(), songFrame: z.number() }),
  shift: z.number(),
  rest: place,
})

const beatSchema = z.object({
  kind: z.literal('beat'),
  name: z.string().max(80),
  term,
  /** Added to every sACN priority that the show names. */
  lift: z.int().min(0).max(200),
  /** Asks the one that follows to take over. */
  yields: z.boolean(),
  /** Of the rig and the show that frames are rendered from. */
  content: hash,
  /** Of tonight's ways out. */
  output: hash,
  /** Whether any way out is open: a laptop that sends nothing is not missed. */
  sends: z.boolean(),
  /** The frame rendered last, its rate, and how many ms ago it was due. */
  frame: z.int().min(0),
  rate: z.number().min(1).max(44),
  age: z.number(),
  /** Ms of the sender's clock when this left; comes back in the reply. */
  sent: z.number(),
  /** Ms there and back as the sender last measured it; null before that. */
  trip: z.number().min(0).nullable(),
  position: place,
  /** The written span that the frame stands for. */
  from: place,
  to: place,
  moves: z.boolean(),
  transport: transportStateSchema,
  live: liveSchema,
  house: z.object({ grand: z.number(), blackout: z.boolean() }),
  /** Seconds of the song that pass in one on the wall. */
  pace: z.number(),
  /** What stands on the wire in place of the show, if anything. */
  check: z.enum(['off', 'on', 'dark']),
  clock: z.object({ source: z.enum(['internal', 'midi', 'mtc']), lock: z.string().max(20), bpm: z.number() }),
  /** CRC-32 of each universe's 512 bytes. */
  levels: z.array(z.object({ universe, crc: z.int().min(0).max(0xffffffff) })).max(1024),
})
export type Beat = z.infer<typeof beatSchema>

/** What the one that follows found when it rendered the frame of a heartbeat. */
const comparisonSchema = z.object({
  /** `step`: the same bytes; `differs`: others; `unknown`: they could not be compared. */
  state: z.enum(['step', 'differs', 'unknown']),
  says: z.string().max(200),
})
export type Comparison = z.infer<typeof comparisonSchema>

const replySchema = z.object({
  kind: z.literal('reply'),
  name: z.string().max(80),
  term,
  content: hash,
  compared: comparisonSchema,
  /** It could take over now. */
  ready: z.boolean(),
  /** `sent` of the last heartbeat, and how long ago it came, ms; null before the first. */
  echo: z.object({ sent: z.number(), held: z.number().min(0) }).nullable(),
})
export type Reply = z.infer<typeof replySchema>

/** Answers a datagram that does not show that its sender is alive now. */
const helloSchema = z.object({ kind: z.literal('hello') })

/** The pair is ended there on purpose: nobody is lost. */
const byeSchema = z.object({ kind: z.literal('bye') })

/** All that may be inside an authenticated datagram. */
export const toldSchema = z.discriminatedUnion('kind', [beatSchema, replySchema, helloSchema, byeSchema])
export type Told = z.infer<typeof toldSchema>
