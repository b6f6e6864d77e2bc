// What a fixture on the stage is called: its name, where it is plugged in, and its channels.

import { patch } from '@glowchart/shared/rig/patch.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'

/** By fixture id: "Tube 3, Box A socket 3, 7–9"; the universe is named where it is not the first. */
export function captionsOf(rig: Rig, kit: Kit): Map<string, string> {
  const captions = new Map<string, string>()
  for (const entry of patch(rig, kit).entries) {
    const name = rig.fixtures[entry.fixture]?.name ?? kit.guests[entry.fixture]?.name ?? entry.fixture
    const box = entry.box === undefined ? undefined : rig.boxes[entry.box]
    const socket = box?.sockets.find(s => s.id === entry.socket)
    const words = [name]
    if (box && socket)
      words.push(`${/^box\b/i.test(box.name) ? '' : 'Box '}${box.name} socket ${socket.label}`)
    const last = entry.address + entry.slots - 1
    const range = last > entry.address ? `${entry.address}–${last}` : `${entry.address}`
    words.push(entry.universe === 1 ? range : `universe ${entry.universe}, ${range}`)
    captions.set(entry.fixture, words.join(', '))
  }
  return captions
}
