// What the data folder keeps of the access by others (`access.json`): no PIN and no token, only their hashes.

import { z } from 'zod'
import { MOST_NAME } from './access.ts'
import { guestRoles } from './role.ts'

const hex = (bytes: number) => z.string().regex(new RegExp(`^[0-9a-f]{${2 * bytes}}$`))
/** Ms since 1970. */
const time = z.number()

/** Tries of the PIN that were wrong: how many, and when the last was. */
const missesSchema = z.object({ count: z.int().min(0), last: time })
export type Misses = z.infer<typeof missesSchema>

const attemptsSchema = z.object({
  all: missesSchema,
  byAddress: z.record(z.string().max(60), missesSchema),
})
export type KeptAttempts = z.infer<typeof attemptsSchema>

/** scrypt (RFC 7914) of the PIN; its cost belongs to version 1 of the file. */
const pinHashSchema = z.object({ salt: hex(16), hash: hex(32) })
export type PinHash = z.infer<typeof pinHashSchema>

const guestSchema = z.object({
  id: z.string().max(40),
  /** SHA-256 of the token, which has 256 bits of chance: it needs no salt. */
  token: hex(32),
  name: z.string().max(MOST_NAME),
  role: z.enum(guestRoles),
  address: z.string().max(60),
  joined: time,
})
export type Guest = z.infer<typeof guestSchema>

export const keptAccessSchema = z.object({
  version: z.literal(1),
  open: z.object({ address: z.ipv4() }).nullable(),
  pin: pinHashSchema.nullable(),
  guests: z.array(guestSchema),
  attempts: attemptsSchema,
})
export type KeptAccess = z.infer<typeof keptAccessSchema>
