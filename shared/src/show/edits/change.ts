// Small changes of records and orders, each giving a new one; and finding things, or saying that they are gone.

import { CodedError } from '../../errors.ts'
import type { Show } from '../schema.ts'
import type { Section, Song } from '../song.ts'

type Items<T> = Readonly<Record<string, T>>

/** @throws CodedError `edit.missing`; `kind` and `where` say what and in which song, kit… */
export function found<T>(items: Items<T>, id: string, kind: string, where: string): T {
  if (Object.hasOwn(items, id)) return items[id]!
  throw new CodedError('edit.missing', `there is no ${kind} "${id}" any more`, where)
}

/** @throws CodedError `edit.exists` */
export function requireNew(items: object, id: string, kind: string, where: string): void {
  if (Object.hasOwn(items, id))
    throw new CodedError('edit.exists', `there is a ${kind} "${id}" already`, where)
}

export const put = <T>(items: Items<T>, id: string, item: NoInfer<T>): Record<string, T> => ({
  ...items,
  [id]: item,
})

export function without<T>(items: Items<T>, id: string): Record<string, T> {
  const { [id]: _gone, ...rest } = items
  return rest
}

/** Every item changed; the same reference when none is. */
export function mapped<T>(items: Record<string, T>, change: (item: T, id: string) => T): Record<string, T> {
  const entries = Object.entries(items).map(([id, item]) => [id, change(item, id)] as const)
  return entries.every(([id, item]) => item === items[id]) ? items : Object.fromEntries(entries)
}

/** A copy with some fields changed: undefined leaves a field as it is, null takes it out. */
export function withFields<T extends object>(
  item: T,
  fields: { [K in keyof T]?: T[K] | null | undefined },
): T {
  const out = { ...item }
  for (const key of Object.keys(fields) as (keyof T)[]) {
    const value = fields[key]
    if (value === null) delete out[key]
    else if (value !== undefined) out[key] = value as T[typeof key]
  }
  return out
}

/** The order with `id` in it once, before another item (null: at the end). */
export function placedBefore(
  order: readonly string[],
  id: string,
  next: string | null,
  where: string,
): string[] {
  const rest = order.filter(other => other !== id)
  if (next === null) return [...rest, id]
  if (next === id) return [...order]
  const at = rest.indexOf(next)
  if (at < 0) throw new CodedError('edit.missing', `there is no "${next}" any more to put it before`, where)
  return rest.toSpliced(at, 0, id)
}

export const songOf = (show: Show, id: string): Song => found(show.songs, id, 'song', show.name)

export const sectionOf = (song: Song, id: string): Section => found(song.sections, id, 'section', song.title)

export const inSong = (show: Show, id: string, change: (song: Song) => Song): Show => ({
  ...show,
  songs: put(show.songs, id, change(songOf(show, id))),
})

export const withSection = (song: Song, id: string, section: Section): Song => ({
  ...song,
  sections: put(song.sections, id, section),
})

/** Every section of a song changed. */
export const mapSections = (song: Song, change: (section: Section, id: string) => Section): Song => {
  const sections = mapped(song.sections, change)
  return sections === song.sections ? song : { ...song, sections }
}

/** @throws CodedError `edit.linked` for a section that repeats another */
export function requireOwn(song: Song, section: Section): void {
  if (!section.sameAs) return
  const source = song.sections[section.sameAs.section]?.name ?? section.sameAs.section
  throw new CodedError('edit.linked', `it repeats "${source}"`, `${song.title}: ${section.name}`)
}

/** Every section of every song changed. */
export const inSongs = (show: Show, change: (section: Section, song: Song) => Section): Show => ({
  ...show,
  songs: mapped(show.songs, song => mapSections(song, section => change(section, song))),
})
