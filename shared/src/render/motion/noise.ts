// Randomness that is the same every time: integer hashes of seed, element and step, and smooth noise made of them.

/** A share 0…1 (1 left out) for three whole numbers. The mixer is MurmurHash3's finaliser (Austin Appleby, public domain). */
export function hash(seed: number, element: number, step: number): number {
  let h = Math.imul(seed, 0x9e3779b1) ^ Math.imul(element + 1, 0x85ebca6b) ^ Math.imul(step | 0, 0xc2b2ae35)
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296
}

/** Smooth noise over time, 0…1: a hash at every whole t, joined by curves whose slope and bend are 0 there. */
export function noise(seed: number, element: number, t: number): number {
  const step = Math.floor(t)
  const before = hash(seed, element, step)
  return before + (hash(seed, element, step + 1) - before) * ease(t - step)
}

/** Smooth noise over place and time, 0…1. `period`: whole places after which it repeats; 0: never. */
export function field(seed: number, place: number, t: number, period: number): number {
  const left = Math.floor(place)
  const a = period > 0 ? modulo(left, period) : left
  const b = period > 0 ? modulo(left + 1, period) : left + 1
  const here = noise(seed, a, t)
  return here + (noise(seed, b, t) - here) * ease(place - left)
}

const modulo = (n: number, period: number): number => n - period * Math.floor(n / period)

/** 6s⁵ − 15s⁴ + 10s³. */
const ease = (s: number): number => s * s * s * (s * (s * 6 - 15) + 10)
