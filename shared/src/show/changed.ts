// Checks a document by its schema after an edit: only what is another object than in the valid document before it.

import { z } from 'zod'
import { type Fault, faultOf } from './faults.ts'

type Schema = z.core.$ZodType

/**
 * The first fault of a value, which shares with a valid one of the same schema what an edit left alone; null when there
 * is none. It finds a fault wherever the whole schema would; where there are several, it may name another one first.
 */
export function faultOfChanged(schema: Schema, before: unknown, after: unknown): Fault | null {
  if (before === after && after !== undefined) return null
  const within = unwrapped(schema, after)
  if (isPlain(before) && isPlain(after)) {
    if (within instanceof z.ZodObject) {
      for (const [key, field] of Object.entries<Schema>(within.shape)) {
        const fault = faultOfChanged(field, fieldOf(before, key), fieldOf(after, key))
        if (fault) return under(key, fault)
      }
      return null
    }
    if (within instanceof z.ZodRecord) {
      for (const key of Object.keys(after)) {
        const fault = Object.hasOwn(before, key)
          ? faultOfChanged(within.valueType, before[key], after[key])
          : faultOfNew(within, key, after[key])
        if (fault) return Object.hasOwn(before, key) ? under(key, fault) : fault
      }
      return null
    }
  }
  return faultOfAll(schema, after)
}

const faultOfNew = (record: z.ZodRecord, key: string, value: unknown): Fault | null =>
  faultOfAll(record, { [key]: value })

function faultOfAll(schema: Schema, value: unknown): Fault | null {
  const parsed = z.safeParse(schema, value)
  return parsed.success ? null : faultOf(parsed.error, value)
}

/** What an optional field is when it is there. */
function unwrapped(schema: Schema, value: unknown): Schema {
  if (value === undefined) return schema
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodDefault) {
    return unwrapped(schema.def.innerType, value)
  }
  return schema
}

const under = (key: string, { path, says }: Fault): Fault => ({
  path: path === '' ? key : `${key}.${path}`,
  says,
})

const fieldOf = (object: Record<string, unknown>, key: string): unknown =>
  Object.hasOwn(object, key) ? object[key] : undefined

const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
