// Choices that are the same every time: from the seed and what they are about, by a hash; and ids made the same way.

import { hash } from '../../render/motion/noise.ts'

/** A 32-bit hash of a text: FNV-1a over its code units. Source: draft-eastlake-fnv (offset basis and prime of 32 bits). */
function textHash(text: string): number {
  let h = 0x811c9dc5
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193)
  return h >>> 0
}

/** A share 0…1 (1 left out) for a seed and what is being chosen. */
export const shareFor = (seed: number, about: string): number => hash(seed, 0, textHash(about))

/** One of some items (never none) for a seed and what is being chosen. */
export const chosen = <T>(items: readonly T[], seed: number, about: string): T =>
  items[Math.floor(shareFor(seed, about) * items.length)]!

/** The items in an order of the seed's own. */
export const shuffled = (items: readonly string[], seed: number, about: string): string[] =>
  items
    .map(item => ({ item, place: shareFor(seed, `${about} ${item}`) }))
    .sort((a, b) => a.place - b.place || (a.item < b.item ? -1 : 1))
    .map(({ item }) => item)

/** An id for a seed and what it names that `taken` does not hold yet. */
export function idFor(seed: number, about: string, taken: object): string {
  for (let n = 0; ; n++) {
    const halves = [0, 1].map(i => hash(seed, 2 * n + i, textHash(`${about} ${i}`)) * 4294967296)
    const id = `rough-${halves.map(half => half.toString(36)).join('-')}`
    if (!Object.hasOwn(taken, id)) return id
  }
}
