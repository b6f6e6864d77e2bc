// A free address for a guest: in the universes that are used already, then in the next one.

import { slotsOf } from '@glowchart/shared/rig/channels.ts'
import { freeAddress } from '@glowchart/shared/rig/patch.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'

/** @param without a guest that gives its own slots up; null when the build needs more than a universe holds */
export function proposedAddress(
  rig: Rig,
  kit: Kit,
  build: string,
  without: string | null = null,
): { universe: number; address: number } | null {
  const slots = slotsOf(rig.builds[build]?.channels ?? [])
  if (slots > 512) return null
  const guests = Object.fromEntries(Object.entries(kit.guests).filter(([id]) => id !== without))
  const others = { ...kit, guests }
  const used = [
    ...Object.keys(kit.boxes).flatMap(id => rig.boxes[id]?.universe ?? []),
    ...Object.values(guests).map(g => g.universe),
  ]
  const universes = [...new Set(used)].sort((a, b) => a - b)
  for (const universe of universes) {
    const address = freeAddress(rig, others, universe, slots)
    if (address !== null) return { universe, address }
  }
  return { universe: (universes.at(-1) ?? 0) + 1, address: 1 }
}
