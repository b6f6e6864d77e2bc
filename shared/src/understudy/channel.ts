// What passes between two laptops beside the heartbeats: announcement, pairing, the show; and what each keeps of it.

import { z } from 'zod'
import { outputSchema } from '../show/output.ts'

const port = z.int().min(1).max(65535)
const name = z.string().min(1).max(80)
/** Some octets in base64. */
const octets = z.base64().max(200)

/** What a laptop that may be followed says to everybody on its network, in clear. */
export const announcementSchema = z.object({
  glowchart: z.literal('understudy'),
  id: z.uuid(),
  name,
  port,
})
export type Announcement = z.infer<typeof announcementSchema>

/** The first message of who connects. */
export const greetingSchema = z.discriminatedUnion('for', [
  z.object({ for: z.literal('pair'), id: z.uuid(), name, port, key: octets }),
  z.object({ for: z.literal('show'), id: z.uuid(), greeting: octets }),
])
export type Greeting = z.infer<typeof greetingSchema>

/** The answer to who wants to pair. */
export const offerSchema = z.union([
  z.object({ refused: z.string().max(200) }),
  z.object({ id: z.uuid(), name, key: octets, salt: octets }),
])

export const wishSchema = z.discriminatedUnion('get', [
  z.object({ get: z.literal('show') }),
  z.object({ get: z.literal('recording'), file: z.string().max(100) }),
])

/** What the laptop that leads hands out; rig and show are parsed as documents are. */
export const handedSchema = z.object({
  rig: z.unknown(),
  show: z.unknown(),
  output: outputSchema,
  /** See the heartbeat. */
  content: z.string().max(64),
  outputHash: z.string().max(64),
})

/** What a laptop keeps of its pairing. */
export const keptSchema = z.object({
  id: z.uuid(),
  /** The port is open: this laptop may be followed, or follows. */
  on: z.boolean().default(false),
  /** The local address that it is open at. */
  via: z.ipv4().default('127.0.0.1'),
  port,
  term: z.int().min(0).default(0),
  leads: z.boolean().default(true),
  partner: z
    .object({
      id: z.uuid(),
      name,
      /** 32 octets in hex. */
      secret: z.string().regex(/^[0-9a-f]{64}$/),
      /** Where it was last. */
      address: z.ipv4(),
      port,
    })
    .nullable()
    .default(null),
})
export type Kept = z.infer<typeof keptSchema>
