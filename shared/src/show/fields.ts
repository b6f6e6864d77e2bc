// Field types that the rig and the show share: ids, names, ticks, shares, colours as text.

import { z } from 'zod'
import type { Ticks } from '../time/units.ts'

/** What every object has under these names would be taken for an item of any record. */
const inEveryObject = Object.getOwnPropertyNames(Object.prototype).filter(name => /^[a-z]/i.test(name))

/** An id: made once, never shown, never changed. Keys of records are ids. */
export const id = z
  .string()
  .min(1)
  .max(64)
  .regex(new RegExp(`^(?!(?:${inEveryObject.join('|')})$)[A-Za-z0-9][A-Za-z0-9_-]*$`))
/** A name a person reads. */
export const name = z.string().min(1).max(80)
export const note = z.string().max(2000)

/** Whole ticks, any sign; bounded so that sums stay exact. */
export const ticks = z.int().min(-1e9).max(1e9) as unknown as z.ZodType<Ticks>
/** A length of at least one tick. */
export const length = z.int().min(1).max(1e9) as unknown as z.ZodType<Ticks>
/** Zero or more ticks. */
export const span = z.int().min(0).max(1e9) as unknown as z.ZodType<Ticks>

/** 0…1. */
export const share = z.number().min(0).max(1)
/** A colour in sRGB, as #rrggbb. */
export const hex = z.string().regex(/^#[0-9a-f]{6}$/)
/** A place on the stage: metres from centre line (house right is positive), from the front edge, and up. */
export const place = z.object({
  x: z.number().min(-100).max(100),
  y: z.number().min(-100).max(100),
  z: z.number().min(0).max(30),
})
export type Place = z.infer<typeof place>

/** A DMX universe as Glowchart numbers it: 1-based, as on the screen. E1.31-2018 6.2.7 bounds it. */
export const universe = z.int().min(1).max(63999)
/** A DMX start address, 1…512. */
export const address = z.int().min(1).max(512)
