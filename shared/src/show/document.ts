// Reading a document: from an unknown value to a rig or a show that is whole, or to the first thing wrong with it.

import type { z } from 'zod'
import { CodedError } from '../errors.ts'
import { RIG_FORMAT, type Rig, rigSchema } from '../rig/schema.ts'
import { faultOf } from './faults.ts'
import { type DocumentKind, ladders, migrate } from './migrations.ts'
import { SHOW_FORMAT, type Show, showSchema } from './schema.ts'
import { validateRig, validateShow } from './validate.ts'

/**
 * Reads a show of any version up to the current. `where` names the file in errors.
 * @throws CodedError `document.*`, naming the path to the first fault; the value is not changed
 */
export function parseShow(value: unknown, where: string): Show {
  const show = parse<Show>('show', SHOW_FORMAT, showSchema, value, where)
  validateShow(show, where)
  return show
}

/** Reads a rig, as `parseShow` does a show. */
export function parseRig(value: unknown, where: string): Rig {
  const rig = parse<Rig>('rig', RIG_FORMAT, rigSchema, value, where)
  validateRig(rig, where)
  return rig
}

function parse<T>(
  kind: DocumentKind,
  format: string,
  schema: z.ZodType<T>,
  value: unknown,
  where: string,
): T {
  const raw = objectOf(value, where)
  requireFormat(raw, format, where)
  const migrated = migrate(raw, ladders[kind], where)
  const result = schema.safeParse(migrated)
  if (!result.success) {
    const { path, says } = faultOf(result.error, migrated)
    throw new CodedError('document.schema', `${path}: ${says}`, `${where}: ${path}`)
  }
  const extra = unknownField(migrated, result.data, [])
  if (extra) {
    const path = extra.join('.')
    throw new CodedError('document.unknown', `${path}: there is no such field`, `${where}: ${path}`)
  }
  return result.data
}

/** @throws CodedError `document.notObject` */
export function objectOf(value: unknown, where: string): Record<string, unknown> {
  if (typeof value === 'object' && value !== null && !Array.isArray(value))
    return value as Record<string, unknown>
  const found = value === null ? 'null' : Array.isArray(value) ? 'a list' : `a ${typeof value}`
  throw new CodedError('document.notObject', `an object is needed, but this is ${found}`, where)
}

/** @throws CodedError `document.format` */
export function requireFormat(raw: Record<string, unknown>, format: string, where: string): void {
  if (raw.format === format) return
  const found = raw.format === undefined ? 'is missing' : `is ${JSON.stringify(raw.format).slice(0, 60)}`
  throw new CodedError('document.format', `format: must be "${format}", but ${found}`, `${where}: format`)
}

/** The path to a field that the schema passed over: kept silently, it would be lost at the next save. */
function unknownField(given: unknown, read: unknown, path: readonly string[]): readonly string[] | null {
  if (typeof given !== 'object' || given === null || typeof read !== 'object' || read === null) return null
  for (const key of Object.keys(given)) {
    if (!Object.hasOwn(read, key)) return [...path, key]
    const below = unknownField(Reflect.get(given, key), Reflect.get(read, key), [...path, key])
    if (below) return below
  }
  return null
}
