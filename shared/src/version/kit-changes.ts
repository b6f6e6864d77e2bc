// What has changed in rig, kits and parts, in words a musician reads.

import { counted, listText } from '../advice/words.ts'
import type { Rig } from '../rig/schema.ts'
import { sameValue } from '../show/diff.ts'
import type { Documents } from '../show/edits/edit.ts'
import type { Kit, Show } from '../show/schema.ts'

/** A line for each thing that differs, that of the kit for tonight most closely. */
export function kitChanges(before: Documents, after: Documents): string[] {
  const [was, is] = [before.show, after.show]
  const says: string[] = []
  if (was.tonight !== is.tonight) says.push(`Tonight’s kit is “${is.kits[is.tonight]!.name}”`)
  for (const id of new Set([...Object.keys(is.kits), ...Object.keys(was.kits)])) {
    const [a, b] = [was.kits[id], is.kits[id]]
    if (!a) says.push(`Kit “${b!.name}” added`)
    else if (!b) says.push(`Kit “${a.name}” removed`)
    else if (!sameValue(a, b)) {
      const what = oneKit(a, b, after)
      says.push(`Kit “${b.name}”: ${what.length > 0 ? what.join(', ') : 'changed'}`)
    }
  }
  says.push(...partsSay(was, is))
  if (!sameValue(before.rig, after.rig)) says.push(...rigSays(before.rig, after.rig))
  return says
}

function oneKit(a: Kit, b: Kit, { rig, show }: Documents): string[] {
  const says: string[] = []
  if (a.name !== b.name) says.push(`was called “${a.name}”`)
  const box = (id: string) => rig.boxes[id]?.name ?? id
  const out = Object.keys(b.boxes).filter(id => !a.boxes[id])
  const left = Object.keys(a.boxes).filter(id => !b.boxes[id])
  if (out.length > 0) says.push(`${listText(out.map(box))} comes along`)
  if (left.length > 0) says.push(`${listText(left.map(box))} stays away`)
  const both = Object.keys(b.boxes).filter(id => a.boxes[id])
  const sockets = (id: string) => {
    const [was, is] = [a.boxes[id]!.sockets, b.boxes[id]!.sockets]
    return [...new Set([...Object.keys(was), ...Object.keys(is)])].filter(s => !sameValue(was[s], is[s]))
  }
  const stands = both.reduce((sum, id) => sum + sockets(id).length, 0)
  if (stands > 0) says.push(`${counted(stands, 'light')} at boxes changed`)
  const moved = both.filter(
    id =>
      !sameValue(a.boxes[id]!.place, b.boxes[id]!.place) ||
      a.boxes[id]!.powerLimit !== b.boxes[id]!.powerLimit,
  )
  if (moved.length > 0) says.push(`${listText(moved.map(box))} stands or is limited otherwise`)
  const guests = [...new Set([...Object.keys(a.guests), ...Object.keys(b.guests)])].filter(
    id => !sameValue(a.guests[id], b.guests[id]),
  )
  if (guests.length > 0) says.push(`${counted(guests.length, 'guest')} changed`)
  const parts = [...new Set([...Object.keys(a.parts), ...Object.keys(b.parts)])].filter(
    id => !sameValue(a.parts[id], b.parts[id]),
  )
  if (parts.length > 0)
    says.push(`other lights in ${listText(parts.map(id => show.parts[id]?.name ?? 'a part that is gone'))}`)
  if (!sameValue(a.stage, b.stage)) says.push('size of the stage')
  if (!sameValue(a.venue, b.venue)) says.push('limits of the venue')
  return says
}

function partsSay(was: Show, is: Show): string[] {
  const names = (show: Show, other: Show) =>
    show.partOrder.filter(id => !other.parts[id]).map(id => show.parts[id]!.name)
  const [added, gone] = [names(is, was), names(was, is)]
  const renamed = is.partOrder.filter(id => was.parts[id] && !sameValue(was.parts[id], is.parts[id]))
  const stays = (show: Show, other: Show) => show.partOrder.filter(id => other.parts[id])
  return [
    ...(added.length > 0 ? [`Part ${listText(added)} added`] : []),
    ...(gone.length > 0 ? [`Part ${listText(gone)} removed`] : []),
    ...renamed.map(id => `Part ${is.parts[id]!.name}, was ${was.parts[id]!.name}`),
    ...(sameValue(stays(was, is), stays(is, was)) ? [] : ['Parts in another order']),
  ]
}

function rigSays(was: Rig, is: Rig): string[] {
  const lists = [
    ['box', 'boxes'],
    ['build', 'builds'],
    ['fixture', 'fixtures'],
  ] as const
  const what = lists.flatMap(([noun, field]) => {
    const [a, b] = [was[field] as Record<string, unknown>, is[field] as Record<string, unknown>]
    const n = [...new Set([...Object.keys(a), ...Object.keys(b)])].filter(
      id => !sameValue(a[id], b[id]),
    ).length
    return n === 0 ? [] : [n === 1 ? `1 ${noun}` : `${n} ${field}`]
  })
  return [what.length > 0 ? `Rig: ${listText(what)} changed` : 'Rig changed']
}
