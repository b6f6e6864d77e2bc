// What of a draft goes into a version: all of it, or single songs and groups of what else a show holds.

import { z } from 'zod'
import { id } from '../show/fields.ts'
import type { Show } from '../show/schema.ts'

/**
 * What is taken together, besides single songs. `kit`: rig, kits, parts, patch. `set`: set lists, order of the songs,
 * pedals, Open Sound Control. `rest`: the band's name, the output, and whatever else a show holds.
 */
export const groups = ['looks', 'kit', 'set', 'rest'] as const
export type Group = (typeof groups)[number]

export const takeSchema = z.union([
  z.literal('all'),
  z.object({
    songs: z.array(id).max(1000).default([]),
    groups: z.array(z.enum(groups)).max(groups.length).default([]),
  }),
])
export type Take = z.output<typeof takeSchema>

const groupOf: Partial<Record<keyof Show, Exclude<Group, 'rest'>>> = {
  looks: 'looks',
  swatches: 'looks',
  rig: 'kit',
  tonight: 'kit',
  kits: 'kit',
  parts: 'kit',
  partOrder: 'kit',
  setLists: 'set',
  tonightList: 'set',
  triggers: 'set',
  osc: 'set',
}

/** The fields of a show in which two may differ, by group; songs and their order are treated by themselves. */
export function fieldsOf(group: Group, a: Show, b: Show): (keyof Show)[] {
  const all = new Set([...Object.keys(a), ...Object.keys(b)] as (keyof Show)[])
  return [...all].filter(
    field => field !== 'songs' && field !== 'songOrder' && (groupOf[field] ?? 'rest') === group,
  )
}
