// What is drawn on a plan: every light and box with its symbol's area, its cable, and its label where there is room.

import { badgesOf, metresText } from '@glowchart/shared/paper/words.ts'
import { areaOf } from '@glowchart/shared/power/wire.ts'
import { OVERHEAD } from '@glowchart/shared/rig/reach.ts'
import type { Build, Rig } from '@glowchart/shared/rig/schema.ts'
import type { Place } from '@glowchart/shared/show/fields.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { type Area, acrossOf, downOf, type Frame, roomBeside } from './frame.ts'

export interface PlottedLight {
  readonly id: string
  readonly build: Build
  readonly x: number
  readonly y: number
  readonly turn: number
  /** Stands upright: seen from above it is a point. */
  readonly upright: boolean
  /** Half its length across the plan, px. */
  readonly half: number
  readonly label: readonly string[]
  readonly room: Area
}

export interface PlottedBox {
  readonly id: string
  readonly badge: string
  readonly area: Area
  /** Where its badge stands. */
  readonly badgeX: number
  readonly sockets: readonly { label: string; used: boolean; x: number; y: number }[]
}

export interface PlottedCable {
  readonly key: string
  readonly path: string
  readonly overhead: boolean
  /** Of the line, px: its cross-section. */
  readonly width: number
}

export interface Plot {
  readonly lights: readonly PlottedLight[]
  readonly boxes: readonly PlottedBox[]
  readonly cables: readonly PlottedCable[]
}

const SOCKET = 16
const LINE = 11

export function plotOf(rig: Rig, kit: Kit, frame: Frame, heights: boolean): Plot {
  const badges = badgesOf(rig, kit)
  const boxes = Object.entries(kit.boxes).flatMap(([id, out]) => {
    const box = rig.boxes[id]
    return box ? [boxAt(id, badges[id]!, box.sockets, out, frame)] : []
  })
  const found: Omit<PlottedLight, 'room'>[] = []
  const cables: PlottedCable[] = []
  const add = (id: string, build: Build, place: Place, turn: number, plug: string): void => {
    const upright = build.shape === 'tube' && Math.abs(Math.cos((turn * Math.PI) / 180)) > 0.5
    const height = place.z >= 0.1 ? metresText(place.z) : 'floor'
    found.push({
      id,
      build,
      turn,
      upright,
      x: acrossOf(place.x, frame),
      y: downOf(place.y, frame),
      half: build.shape === 'bulb' || upright ? 6 : Math.max(8, (build.size.long / 2) * frame.metre),
      label: heights ? [plug, height] : [plug],
    })
  }
  for (const [boxId, out] of Object.entries(kit.boxes)) {
    const box = rig.boxes[boxId]
    const drawn = boxes.find(one => one.id === boxId)
    if (!box || !drawn) continue
    for (const [i, socket] of box.sockets.entries()) {
      const stand = out.sockets[socket.id]
      const build = stand && rig.builds[rig.fixtures[stand.fixture]?.build ?? '']
      if (!stand || stand.missing || !build) continue
      add(stand.fixture, build, stand.place, stand.turn, `${badges[boxId]}${socket.label}`)
      const from = drawn.sockets[i]!
      cables.push({
        key: `${boxId}.${socket.id}`,
        path: curve(from.x, from.y, acrossOf(stand.place.x, frame), downOf(stand.place.y, frame)),
        overhead: stand.place.z > OVERHEAD,
        width: Math.min(2, 0.5 + areaOf(socket.cable.wire) * 0.4),
      })
    }
  }
  for (const [id, guest] of Object.entries(kit.guests)) {
    const build = rig.builds[guest.build]
    if (build) add(id, build, guest.place, guest.turn, guest.name)
  }
  return { boxes, cables, lights: labelled(found, boxes, frame) }
}

function boxAt(
  id: string,
  badge: string,
  sockets: readonly { id: string; label: string }[],
  out: Kit['boxes'][string],
  frame: Frame,
): PlottedBox {
  const columns = Math.min(8, Math.max(2, Math.ceil(sockets.length / 2)))
  const rows = Math.ceil(sockets.length / columns)
  const width = columns * SOCKET + 4
  const height = rows * SOCKET + 2
  const held = (at: number, size: number, most: number): number =>
    Math.min(most - size, Math.max(0, at - size / 2))
  const x = held(acrossOf(out.place.x, frame), width, frame.width)
  const y = held(downOf(out.place.y, frame), height, frame.height)
  const isRight = out.place.x > 0
  return {
    id,
    badge,
    area: { x, y, width, height },
    badgeX: isRight ? x - 13 : x + width + 13,
    sockets: sockets.map((socket, i) => ({
      label: socket.label,
      used: out.sockets[socket.id] !== undefined,
      x: x + 2 + ((i % columns) + 0.5) * SOCKET,
      y: y + 1 + (Math.floor(i / columns) + 0.5) * SOCKET,
    })),
  }
}

/** Leaves the box and comes to the light upright, so that cables part before they cross. */
function curve(fromX: number, fromY: number, toX: number, toY: number): string {
  const way = toY < fromY ? -1 : 1
  const out = Math.min(34, Math.abs(toY - fromY) * 0.7 + 9) * way
  const into = Math.min(36, Math.abs(toY - fromY) * 0.5) * way
  return `M${fromX} ${fromY}C${fromX} ${fromY + out} ${toX} ${toY - into} ${toX} ${toY}`
}

function labelled(
  lights: readonly Omit<PlottedLight, 'room'>[],
  boxes: readonly PlottedBox[],
  frame: Frame,
): PlottedLight[] {
  const symbols = lights.map(light => {
    const tall = light.build.shape === 'letters' ? 22 : light.upright || light.build.shape === 'bulb' ? 14 : 8
    return { x: light.x - light.half, y: light.y - tall / 2, width: 2 * light.half, height: tall }
  })
  const edge = downOf(0, frame)
  const taken: Area[] = [
    ...symbols,
    // The front edge and its scale.
    { x: 0, y: edge - 3, width: frame.width, height: 20 },
    ...boxes.flatMap(({ area, badgeX }) => [
      area,
      { x: badgeX - 11, y: area.y, width: 22, height: area.height },
    ]),
  ]
  return lights.map((light, i) => {
    const width = Math.max(...light.label.map(line => line.length)) * 6.2 + 2
    const room = roomBeside(symbols[i]!, width, light.label.length * LINE, taken, frame)
    taken.push(room)
    return { ...light, room }
  })
}
