// The documents of a new version: the running ones with what is taken of the draft, whole and valid or not at all.

import { CodedError, type ErrorCode } from '../errors.ts'
import type { Documents } from '../show/edits/edit.ts'
import type { Show } from '../show/schema.ts'
import { validateRig, validateShow } from '../show/validate.ts'
import { groupNames } from './changes.ts'
import { fieldsOf, type Group, groups, type Take } from './take.ts'

/**
 * Taking everything that `changesBetween` names gives the draft. Nothing given is changed.
 * @throws CodedError `version.mix` when what is taken needs something that is not
 */
export function mixOf(running: Documents, draft: Documents, take: Take): Documents {
  if (take === 'all') return draft
  const songs = { ...running.show.songs }
  for (const id of take.songs) {
    const song = draft.show.songs[id]
    if (song) songs[id] = song
    else delete songs[id]
  }
  const taken = new Set<Group>(take.groups)
  const show = { ...running.show, songs }
  for (const group of groups) {
    if (!taken.has(group)) continue
    for (const field of fieldsOf(group, running.show, draft.show)) copyField(show, draft.show, field)
  }
  show.songOrder = orderOf(songs, draft.show.songOrder, taken.has('set') ? null : running.show.songOrder)
  const mix = { rig: taken.has('kit') ? draft.rig : running.rig, show }
  requireWhole(mix)
  return mix
}

function copyField<K extends keyof Show>(to: Show, from: Show, field: K): void {
  if (Object.hasOwn(from, field)) to[field] = from[field]
  else delete to[field]
}

/** The songs in their standing order (null: the draft's); one that it has not stands behind the one before it in the draft. */
function orderOf(
  songs: Show['songs'],
  draft: readonly string[],
  standing: readonly string[] | null,
): string[] {
  const order = (standing ?? draft).filter(id => songs[id])
  for (const [i, id] of draft.entries()) {
    if (!songs[id] || order.includes(id)) continue
    const before = draft.slice(0, i).findLast(one => order.includes(one))
    order.splice(before === undefined ? 0 : order.indexOf(before) + 1, 0, id)
  }
  return [...order, ...Object.keys(songs).filter(id => !order.includes(id))]
}

/** Which group what is missing belongs to. */
const lacks: Partial<Record<ErrorCode, Group>> = {
  'document.look': 'looks',
  'document.swatch': 'looks',
  'document.part': 'kit',
  'document.build': 'kit',
}

function requireWhole({ rig, show }: Documents): void {
  try {
    validateRig(rig, rig.name)
    validateShow(show, show.name)
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    const group = lacks[error.code]
    const more = group ? `; take “${groupNames[group]}” too` : ''
    throw new CodedError('version.mix', `it does not fit what runs: ${error.message}${more}`, error.where)
  }
}
