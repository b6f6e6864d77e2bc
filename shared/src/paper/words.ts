// How the sheets write lengths, wires, currents, addresses and the colour of a tape: in words that survive grey ink.

import type { Wire } from '../rig/electric.ts'
import type { Box, Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'

/** International foot, m (1959 agreement, exact). */
const FOOT = 0.3048

/** “2.35 m”; to the centimetre. */
export const metresText = (metres: number): string => `${Number(metres.toFixed(2))} m`

/** “7 ft 9 in”, to the inch; under a foot to a tenth of one. */
export function feetText(metres: number): string {
  if (metres > 0 && metres < FOOT) return `${Number(((metres / FOOT) * 12).toFixed(1))} in`
  const inches = Math.round((Math.abs(metres) / FOOT) * 12)
  const [feet, rest] = [Math.floor(inches / 12), inches % 12]
  const sign = metres < 0 && inches > 0 ? '−' : ''
  if (rest === 0) return `${sign}${feet} ft`
  return feet === 0 ? `${sign}${rest} in` : `${sign}${feet} ft ${rest} in`
}

export const wireText = (wire: Wire): string =>
  'mm2' in wire ? `${wire.mm2} mm²` : `${wire.awg} AWG${wire.solid ? ' solid' : ''}`

/** “11.5 A”, “1.44 A”: three figures that count. */
export const ampsText = (amps: number): string => `${figure(amps)} A`
export const wattsText = (watts: number): string => `${watts < 10 ? figure(watts) : Math.round(watts)} W`

const figure = (value: number): string => `${Number(value.toFixed(value < 10 ? 2 : 1))}`

/** “7–9”; one address alone is one number. */
export const rangeText = (from: number, slots: number): string =>
  slots > 1 ? `${from}–${from + slots - 1}` : `${from}`

/** “3:43”. */
export function lengthText(seconds: number): string {
  const whole = Math.round(seconds)
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** A tempo as it is read: without a fraction when it has none. */
export const bpmText = (bpm: number): string =>
  Math.abs(bpm - Math.round(bpm)) < 0.05 ? `${Math.round(bpm)}` : bpm.toFixed(1)

/**
 * The letters on the boxes' badges, by box: “Box A” is A, “Fly box” F. Two boxes of a kit never share one: the later
 * one takes the next letter that is free.
 */
export function badgesOf(rig: Rig, kit: Kit): Readonly<Record<string, string>> {
  const badges: Record<string, string> = {}
  const taken = new Set<string>()
  for (const id of Object.keys(kit.boxes)) {
    const box = rig.boxes[id]
    if (!box) continue
    let badge = letterOf(box)
    for (let code = 65; taken.has(badge) && code < 91; code++) badge = String.fromCharCode(code)
    taken.add(badge)
    badges[id] = badge
  }
  return badges
}

function letterOf({ name }: Box): string {
  const last = name.trim().split(/\s+/).at(-1) ?? ''
  return ([...last].length <= 2 ? last : ([...name][0] ?? '?')).toUpperCase()
}

/** The word for a tape of this colour (#rrggbb): what is asked for in a shop. */
export function tapeWord(hex: string): string {
  const [r, g, b] = [1, 3, 5].map(i => Number.parseInt(hex.slice(i, i + 2), 16) / 255) as [
    number,
    number,
    number,
  ]
  const most = Math.max(r, g, b)
  const least = Math.min(r, g, b)
  const chroma = most - least
  if (most < 0.18) return 'black'
  if (chroma < 0.12) return least > 0.85 ? 'white' : 'grey'
  const hue =
    60 * (most === r ? ((g - b) / chroma + 6) % 6 : most === g ? (b - r) / chroma + 2 : (r - g) / chroma + 4)
  if (hue >= 10 && hue < 48 && most < 0.65) return 'brown'
  const isPale = least > 0.5 && (hue < 20 || hue >= 290)
  if (isPale) return 'pink'
  const named = hues.find(([end]) => hue < end)
  return named ? named[1] : 'red'
}

/** Where each word ends on the circle of hues, degrees. Common practice, no source. */
const hues: readonly (readonly [number, string])[] = [
  [14, 'red'],
  [42, 'orange'],
  [68, 'yellow'],
  [165, 'green'],
  [195, 'turquoise'],
  [255, 'blue'],
  [292, 'violet'],
  [345, 'pink'],
]
