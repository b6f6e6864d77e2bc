// What stands on the plan: boxes, the lights in their sockets, and guests; and the edit that moves each.

import type { Build, Rig } from '@glowchart/shared/rig/schema.ts'
import type { Place } from '@glowchart/shared/show/fields.ts'
import type { Kit, Stand } from '@glowchart/shared/show/schema.ts'
import { edit, editTogether } from '../../document/editing.ts'

interface At {
  readonly key: string
  readonly name: string
  readonly place: Place
}

export type Thing =
  | (At & { readonly kind: 'box'; readonly box: string })
  | (At & {
      readonly kind: 'stand'
      readonly box: string
      readonly socket: string
      readonly label: string
      readonly stand: Stand
      readonly build: Build
    })
  | (At & { readonly kind: 'guest'; readonly guest: string; readonly turn: number; readonly build: Build })

/** @param moved the one that is being moved, by its key, and where it is by now */
export function thingsOf(rig: Rig, kit: Kit, moved: { key: string; place: Place } | null): Thing[] {
  const at = (key: string, place: Place): Place => (moved?.key === key ? moved.place : place)
  const things: Thing[] = []
  for (const [box, out] of Object.entries(kit.boxes)) {
    const owned = rig.boxes[box]
    if (!owned) continue
    const key = `box ${box}`
    things.push({ kind: 'box', key, box, name: owned.name, place: at(key, out.place) })
    for (const socket of owned.sockets) {
      const stand = out.sockets[socket.id]
      const fixture = stand && rig.fixtures[stand.fixture]
      const build = fixture && rig.builds[fixture.build]
      if (!stand || !build) continue
      const key = `stand ${box} ${socket.id}`
      const place = at(key, stand.place)
      const { label } = socket
      things.push({
        kind: 'stand',
        key,
        box,
        socket: socket.id,
        label,
        name: fixture.name,
        place,
        stand,
        build,
      })
    }
  }
  for (const [id, { name, place, turn, build: buildId }] of Object.entries(kit.guests)) {
    const build = rig.builds[buildId]
    const key = `guest ${id}`
    if (build) things.push({ kind: 'guest', key, guest: id, name, place: at(key, place), turn, build })
  }
  return things
}

/** Moves a thing to its place: one step back. */
export function moveThing(kitId: string, kit: Kit, thing: Thing): void {
  const { place } = thing
  if (thing.kind === 'box') void edit('placeBox', { kit: kitId, box: thing.box, place })
  else if (thing.kind === 'stand') {
    const { box, socket, stand } = thing
    void editTogether(`Move ${thing.name}`, [
      ['setStand', { kit: kitId, box, socket, stand: { ...stand, place } }],
    ])
  } else {
    const value = { ...kit.guests[thing.guest]!, place }
    void editTogether(`Move ${thing.name}`, [['setGuest', { kit: kitId, guest: thing.guest, value }]])
  }
}
