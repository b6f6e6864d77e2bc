// How the rig page writes what it says of boxes, addresses, wires and amps.

import { outputBytes } from '@glowchart/shared/rig/claims.ts'
import type { Wire } from '@glowchart/shared/rig/electric.ts'
import type { Box } from '@glowchart/shared/rig/schema.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'

/** "12.6 A"; to a tenth. */
export const ampsText = (amps: number): string => `${amps.toFixed(1)} A`

export const wireText = (wire: Wire): string =>
  'mm2' in wire ? `${wire.mm2} mm²` : `${wire.awg} AWG${wire.solid ? ' solid' : ''}`

/** "7–9"; one address alone is one number. */
export const rangeText = (from: number, slots: number): string =>
  slots > 1 ? `${from}–${from + slots - 1}` : `${from}`

/** What a box listens to: "1–24", with its universe where that is not the first. */
export function boxRange(box: Box): string {
  const range = rangeText(box.address, box.decoder.channels * outputBytes(box))
  return box.universe === 1 ? range : `universe ${box.universe}, ${range}`
}

/** The letter on a box's badge: "Box A" is A, "Fly box" F. */
export function badgeOf(name: string): string {
  const last = name.trim().split(/\s+/).at(-1) ?? ''
  return ([...last].length <= 2 ? last : ([...name][0] ?? '?')).toUpperCase()
}

/** Universes that a kit's boxes and guests listen to, in words. */
export function universesText(boxes: Record<string, Box>, kit: Kit): string {
  const used = new Set<number>()
  for (const id of Object.keys(kit.boxes)) if (boxes[id]) used.add(boxes[id].universe)
  for (const guest of Object.values(kit.guests)) used.add(guest.universe)
  const list = [...used].sort((a, b) => a - b)
  if (list.length === 0) return ''
  return `${list.length === 1 ? 'universe' : 'universes'} ${list.join(', ')}`
}

/** Where in a song: "“Salt”, bar 12". */
export const songBar = (show: Show, song: string, bar: number): string =>
  `“${show.songs[song]?.title ?? song}”, bar ${bar + 1}`
