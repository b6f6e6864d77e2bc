// What is done to whole sections, by keys, the panel and drags alike: each one step back, and the choice follows.

import type { Section } from '@glowchart/shared/show/song.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { reveal } from '../chart/reveal.ts'
import { chooseThing, useChoice } from '../document/choice.ts'
import { edit } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { say } from '../document/session.ts'
import { type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { focusMark, renameInPlace } from './focus.ts'

/** The chosen section of the song on the page; null when none is. */
export function chosenSection(): string | null {
  const { thing } = useChoice.getState()
  return thing?.kind === 'section' ? thing.id : null
}

/** Chooses a section and brings its mark into sight. */
export function chooseSection(id: string): void {
  chooseThing('section', id)
  const span = viewedSongNow()?.timeline.sections.find(s => s.id === id)
  if (span) reveal(span.start, false)
}

/** The next section (+1) or the one before (−1), chosen and held by the keyboard. */
export function stepChosen(by: 1 | -1): void {
  const order = viewedSongNow()?.song.sectionOrder ?? []
  const id = order[order.indexOf(chosenSection() ?? '') + by]
  if (id === undefined) return
  chooseSection(id)
  focusMark(id)
}

const NEW_BARS = 8

/** A new section before another one (null: at the end); its name is typed at once. */
export function addSection(before: string | null): void {
  const viewed = viewedSongNow()
  if (!viewed) return
  const names = new Set(Object.values(viewed.song.sections).map(section => section.name))
  let n = viewed.song.sectionOrder.length + 1
  while (names.has(`Section ${n}`)) n++
  const section = newId('section')
  void edit('addSection', { song: viewed.id, section, name: `Section ${n}`, bars: NEW_BARS, before })
  chooseSection(section)
  renameInPlace(section)
}

/** A new section after the one that is chosen, or at the end. */
export function addAfterChosen(): void {
  const id = chosenSection()
  addSection(id === null ? null : after(id))
}

export function duplicateSection(id: string, linked: boolean, before = after(id)): void {
  const viewed = viewedSongNow()
  if (!viewed) return
  const as = newId('section')
  void edit('duplicateSection', { song: viewed.id, section: id, as, linked, before })
  chooseSection(as)
}

/** One place earlier (−1) or later (+1). */
export function moveSection(id: string, by: 1 | -1): void {
  const viewed = viewedSongNow()
  const order = viewed?.song.sectionOrder ?? []
  const at = order.indexOf(id)
  if (!viewed || order[at + by] === undefined) return
  moveBefore(id, order[by === 1 ? at + 2 : at - 1] ?? null)
}

export function moveBefore(id: string, before: string | null): void {
  const viewed = viewedSongNow()
  if (!viewed) return
  void edit('moveSection', { song: viewed.id, section: id, before })
  chooseSection(id)
  focusMark(id)
  say(before === null ? 'Moved to the end.' : `Moved before ${viewed.song.sections[before]?.name}.`)
}

export function deleteSection(id: string): void {
  const viewed = viewedSongNow()
  if (!viewed) return
  const next = after(id) ?? viewed.song.sectionOrder.at(-2)
  const name = viewed.song.sections[id]?.name
  void edit('deleteSection', { song: viewed.id, section: id }).then(({ ok }) => {
    if (ok) say(`${name} deleted. Undo brings it back.`)
  })
  if (next === undefined || viewedSongNow()?.song.sections[id]) return
  chooseSection(next)
  focusMark(next)
}

/** The section that follows; null after the last. */
function after(id: string): string | null {
  const order = viewedSongNow()?.song.sectionOrder ?? []
  return order[order.indexOf(id) + 1] ?? null
}

/** The section whose bars are changed when those of `id` are: its source's, while it is as long as that. */
export function ownerOfBars({ song }: ViewedSong, id: string): string {
  const source = song.sections[id]!.sameAs?.section
  return source !== undefined && song.sections[source]!.bars === song.sections[id]!.bars ? source : id
}

/** Bars put in before a 0-based bar of a section; its number of bars: at its end. */
export function insertBars(id: string, bar: number, count: number): void {
  const viewed = viewedSongNow()
  if (viewed) void edit('insertBars', { song: viewed.id, section: ownerOfBars(viewed, id), bar, count })
}

export function removeBars(id: string, bar: number, count: number): void {
  const viewed = viewedSongNow()
  if (viewed) void edit('removeBars', { song: viewed.id, section: ownerOfBars(viewed, id), bar, count })
}

/** Every section that plays the same as this one, itself too, in the song's order. */
export function familyOf({ song }: ViewedSong, id: string): string[] {
  const source = song.sections[id]?.sameAs?.section ?? id
  return song.sectionOrder.filter(
    other => other === source || song.sections[other]!.sameAs?.section === source,
  )
}

/** "Chorus 2", "Chorus 2 and 3", "Chorus 2, 3 and Last chorus": names that begin alike say it once. */
export function namesInWords(sections: readonly Pick<Section, 'name'>[]): string {
  let stem = ''
  const words = sections.map(({ name }) => {
    const [, word, number] = /^(.*\S)\s+(\d+)$/.exec(name) ?? []
    const short = word !== undefined && word === stem ? number! : name
    stem = word ?? ''
    return short
  })
  const last = words.pop() ?? ''
  return words.length === 0 ? last : `${words.join(', ')} and ${last}`
}

/** Tempo marks in order, as the document wants them. */
export const inOrder = <T extends { at: number }>(marks: readonly T[]): T[] =>
  [...marks].sort((a, b) => a.at - b.at).map(mark => ({ ...mark, at: ticks(mark.at) }))
