// Randomness that is the same every time: an integer hash of seed, element and step, and what joins its values smoothly.

/** A share 0…1 (1 left out) for three whole numbers. The mixer is MurmurHash3's finaliser (Austin Appleby, public domain). */
export function hash(seed: number, element: number, step: number): number {
  let h = Math.imul(seed, 0x9e3779b1) ^ Math.imul(element + 1, 0x85ebca6b) ^ Math.imul(step | 0, 0xc2b2ae35)
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296
}

/** From 0 to 1 with slope and bend 0 at both ends: 6s⁵ − 15s⁴ + 10s³. */
export const ease = (s: number): number => s * s * s * (s * (s * 6 - 15) + 10)
