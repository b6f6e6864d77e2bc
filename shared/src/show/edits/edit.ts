// What an edit is: a named pure function on the show or the rig, with the shape of its arguments and its name in words.

import { z } from 'zod'
import type { Rig } from '../../rig/schema.ts'
import { id } from '../fields.ts'
import type { Show } from '../schema.ts'

/** The two documents that are edited together. */
export interface Documents {
  readonly rig: Rig
  readonly show: Show
}

/**
 * An edit of one document. `says` names it for undo ("Move Wingbeat"), with the document as it is before. `apply`
 * gives the document after it and changes nothing in place; both throw CodedError `edit.*`. Ids of new things come
 * in the arguments, so that an edit gives the same result wherever it is applied.
 */
export interface ShowEdit<S extends z.ZodType> {
  readonly document: 'show'
  readonly args: S
  says(args: z.output<S>, show: Show, rig: Rig): string
  apply(show: Show, args: z.output<S>, rig: Rig): Show
}

export interface RigEdit<S extends z.ZodType> {
  readonly document: 'rig'
  readonly args: S
  says(args: z.output<S>, rig: Rig): string
  /** `show` is there to refuse taking away what it uses. */
  apply(rig: Rig, args: z.output<S>, show: Show): Rig
}

export function showEdit<F extends z.ZodRawShape>(
  fields: F,
  says: ShowEdit<z.ZodObject<F>>['says'],
  apply: ShowEdit<z.ZodObject<F>>['apply'],
): ShowEdit<z.ZodObject<F>> {
  return { document: 'show', args: z.object(fields), says, apply }
}

export function rigEdit<F extends z.ZodRawShape>(
  fields: F,
  says: RigEdit<z.ZodObject<F>>['says'],
  apply: RigEdit<z.ZodObject<F>>['apply'],
): RigEdit<z.ZodObject<F>> {
  return { document: 'rig', args: z.object(fields), says, apply }
}

/** The item of an order that something is put before; null: at the end. */
export const before = id.nullable().default(null)
