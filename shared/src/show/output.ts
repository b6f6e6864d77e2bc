// The output part of a show: which universe leaves how, and to whom. Addresses only; no sockets.

import { z } from 'zod'
import { universe } from './fields.ts'

const ipv4 = z.ipv4()
const port = z.int().min(1).max(65535)

/** Where a node is asked by its own address. */
export const hostSchema = z.object({ address: ipv4, port: port.default(6454) })

/**
 * One universe's way out. `mode`: "every" sends each rendered frame; "changes" follows E1.31-2018 6.6.2 (three
 * repeats of an unchanged frame, then one keep-alive each 800–1000 ms).
 */
const route = z.discriminatedUnion('protocol', [
  z.object({
    protocol: z.literal('artnet'),
    /** The node's address; Art-Net 4 sends ArtDmx by unicast only. */
    host: ipv4,
    port: port.default(6454),
    /** 15-bit Port-Address: Net, Sub-Net and Universe as one number. Kept apart from our universe number. */
    portAddress: z.int().min(0).max(32767),
    mode: z.enum(['every', 'changes']).default('every'),
  }),
  z.object({
    protocol: z.literal('sacn'),
    /** A receiver's address, or "multicast" for 239.255.hi.lo (E1.31-2018 9.3.1). */
    host: z.union([ipv4, z.literal('multicast')]),
    port: port.default(5568),
    /** The E1.31 universe on the wire. */
    wireUniverse: universe,
    priority: z.int().min(0).max(200).default(100),
    preview: z.boolean().default(false),
    mode: z.enum(['every', 'changes']).default('changes'),
  }),
])
/** A route and the universe (as Glowchart numbers it) that it carries. Several routes may carry one universe. */
export const routeSchema = z.object({
  universe,
  /** Local IPv4 address to send from; left out: the system's choice. */
  via: ipv4.optional(),
  to: route,
})
export type Route = z.infer<typeof routeSchema>

export const outputSchema = z.object({
  /** Frames a second, 1…44 (ANSI E1.11: a full universe cannot be faster than 44.1). */
  rate: z.int().min(1).max(44).default(40),
  /** ArtSync / E1.31 sync after each frame's packets; the E1.31 sync address, or false. */
  sync: z.union([z.literal(false), universe]).default(false),
  /** Name announced in sACN packets. */
  sourceName: z.string().min(1).max(63).default('Glowchart'),
  routes: z.array(routeSchema).max(1024).default([]),
})
export type Output = z.infer<typeof outputSchema>
