// All edits by name, and how one is applied: checked, validated as a whole, and given as a reversible diff.

import type { z } from 'zod'
import { CodedError } from '../errors.ts'
import { rigSchema } from '../rig/schema.ts'
import { faultOfChanged } from './changed.ts'
import { applyDiff, type Diff, diffOf, reverseOf } from './diff.ts'
import { bandEdits } from './edits/band.ts'
import { barEdits } from './edits/bars.ts'
import { copyEdits } from './edits/copy.ts'
import { cueLightEdits } from './edits/cueLight.ts'
import { cueStretchEdits } from './edits/cueStretch.ts'
import { cueEdits } from './edits/cues.ts'
import { deadBoxEdits } from './edits/deadBox.ts'
import type { Documents, RigEdit, ShowEdit } from './edits/edit.ts'
import { kitEdits } from './edits/kits.ts'
import { linkEdits } from './edits/links.ts'
import { lookEdits } from './edits/looks.ts'
import { partEdits } from './edits/parts.ts'
import { rigEdits, unused } from './edits/rig.ts'
import { roughInEdits } from './edits/roughIn.ts'
import { sectionEdits } from './edits/sections.ts'
import { setListEdits } from './edits/setLists.ts'
import { songEdits } from './edits/songs.ts'
import { standEdits } from './edits/stands.ts'
import { swatchEdits } from './edits/swatches.ts'
import { trackEdits } from './edits/tracks.ts'
import { triggerEdits } from './edits/triggers.ts'
import { faultOf } from './faults.ts'
import { showSchema } from './schema.ts'
import { validateRig, validateShow } from './validate.ts'

export const edits = {
  ...sectionEdits,
  ...barEdits,
  ...linkEdits,
  ...copyEdits,
  ...trackEdits,
  ...cueEdits,
  ...cueStretchEdits,
  ...cueLightEdits,
  ...roughInEdits,
  ...lookEdits,
  ...swatchEdits,
  ...songEdits,
  ...partEdits,
  ...kitEdits,
  ...standEdits,
  ...deadBoxEdits,
  ...setListEdits,
  ...triggerEdits,
  ...bandEdits,
  ...rigEdits,
}

export type EditName = keyof typeof edits
/** What a page writes as the arguments of an edit; defaults may be left out. */
export type EditArgs<N extends EditName> = z.input<(typeof edits)[N]['args']>
/** An edit and its arguments. */
export type Told = { [N in EditName]: readonly [N, EditArgs<N>] }[EditName]

/** An edit that has been applied. `diff` is that of one document; empty when it changed nothing. */
export interface Applied {
  readonly document: 'rig' | 'show'
  /** Its name in words: "Move Wingbeat". */
  readonly says: string
  readonly diff: Diff
  readonly next: Documents
}

/**
 * Applies an edit by name. The documents given are not changed; they share with `next` all that the edit left alone.
 * @throws CodedError `edit.unknown`, `edit.schema` naming the argument, `edit.invalid` when the document would no
 *   longer be valid, or another `edit.*` of the edit's own
 */
export function applyEdit(documents: Documents, name: string, args: unknown): Applied {
  const { edit, data } = parsedEdit(name, args)
  const { rig, show } = documents
  const says = edit.document === 'rig' ? edit.says(data, rig) : edit.says(data, show, rig)
  return applied(documents, edit.document, says, afterEdit(documents, edit, data))
}

/**
 * The documents as an edit would leave them, not validated as a whole: quick enough to be drawn while it is dragged.
 * @throws CodedError `edit.*`
 */
export function previewEdit(documents: Documents, name: string, args: unknown): Documents {
  const { edit, data } = parsedEdit(name, args)
  return afterEdit(documents, edit, data)
}

type AnyEdit = ShowEdit<z.ZodType> | RigEdit<z.ZodType>

function parsedEdit(name: string, args: unknown): { edit: AnyEdit; data: unknown } {
  if (!Object.hasOwn(edits, name)) throw new CodedError('edit.unknown', `there is no edit "${name}"`, name)
  const edit = edits[name as EditName] as unknown as AnyEdit
  const parsed = edit.args.safeParse(args)
  if (parsed.success) return { edit, data: parsed.data }
  const { path, says } = faultOf(parsed.error, args)
  throw new CodedError('edit.schema', `${path || 'arguments'}: ${says}`, `${name}: ${path || 'arguments'}`)
}

const afterEdit = ({ rig, show }: Documents, edit: AnyEdit, data: unknown): Documents =>
  edit.document === 'rig'
    ? { rig: edit.apply(rig, data, show), show }
    : { rig, show: edit.apply(show, data, rig) }

/**
 * Takes back an edit that was applied before, or does it again when given the taking back.
 * @throws CodedError `edit.conflict` when something it touched has changed since, or is in use by now
 */
export function takeBack(documents: Documents, done: Pick<Applied, 'document' | 'says' | 'diff'>): Applied {
  const { document } = done
  const next = { ...documents, [document]: applyDiff(documents[document], reverseOf(done.diff)) }
  try {
    if (document === 'rig') unused(documents.rig, next.rig, documents.show)
    return applied(documents, document, done.says, next)
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    throw new CodedError('edit.conflict', `something is in use by now: ${error.message}`, error.where)
  }
}

function applied(before: Documents, document: 'rig' | 'show', says: string, next: Documents): Applied {
  requireValid(document, before, next)
  return { document, says, diff: diffOf(before[document], next[document]), next }
}

/** What an edit left alone was valid before it, and is not looked at again. @throws CodedError `edit.invalid` */
function requireValid(document: 'rig' | 'show', before: Documents, next: Documents): void {
  const fault = faultOfChanged(document === 'rig' ? rigSchema : showSchema, before[document], next[document])
  if (fault) throw new CodedError('edit.invalid', `${fault.path}: ${fault.says}`, fault.path)
  try {
    if (document === 'rig') validateRig(next.rig, next.rig.name)
    else validateShow(next.show, next.show.name, before.show)
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    throw new CodedError('edit.invalid', error.message, error.where)
  }
}
