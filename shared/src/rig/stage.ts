// Tonight's stage as the renderer sees it: every fixture once, its cells numbered, the parts as ordered fixtures.

import type { Place } from '../show/fields.ts'
import type { Kit } from '../show/schema.ts'
import type { Rig, Shape } from './schema.ts'

export interface StageFixture {
  /** The rig's fixture id, or the guest's. */
  readonly id: string
  readonly name: string
  readonly build: string
  readonly shape: Shape
  readonly text: string
  readonly size: { readonly long: number; readonly across: number }
  readonly place: Place
  readonly turn: number
  /** Factor on its level tonight. */
  readonly trim: number
  /** Its cells are firstCell … firstCell + cells − 1 of the stage. */
  readonly firstCell: number
  readonly cells: number
}

export interface StagePart {
  /** Indices into `fixtures`, in the part's order; taken from the stand-in when the part itself is empty. */
  readonly fixtures: readonly number[]
  readonly cyclic: boolean
}

export interface Stage {
  readonly fixtures: readonly StageFixture[]
  readonly cells: number
  readonly parts: Readonly<Record<string, StagePart>>
}

/**
 * Lays out a kit: fixtures in the order of universe, then address; parts with their stand-ins followed (a circle
 * of stand-ins is an empty part). Fixtures that the rig or the kit does not have are left out; `advice` names them.
 * So are those that are missing tonight.
 */
export function stageOf(rig: Rig, kit: Kit): Stage {
  const found: { at: number; fixture: Omit<StageFixture, 'firstCell' | 'cells'>; cells: number }[] = []
  for (const [boxId, outBox] of Object.entries(kit.boxes)) {
    const box = rig.boxes[boxId]
    if (!box) continue
    let output = 0
    for (const socket of box.sockets) {
      const at = box.universe * 512 + box.address - 1 + output
      output += socket.channels
      const stand = outBox.sockets[socket.id]
      const owned = stand && rig.fixtures[stand.fixture]
      const build = owned && rig.builds[owned.build]
      if (!stand || stand.missing || !owned || !build) continue
      found.push({
        at,
        cells: build.cells,
        fixture: {
          id: stand.fixture,
          name: owned.name,
          build: owned.build,
          shape: build.shape,
          text: build.text ?? '',
          size: build.size,
          place: stand.place,
          turn: stand.turn,
          trim: stand.trim,
        },
      })
    }
  }
  for (const [guestId, guest] of Object.entries(kit.guests)) {
    const build = rig.builds[guest.build]
    if (!build) continue
    found.push({
      at: guest.universe * 512 + guest.address - 1,
      cells: build.cells,
      fixture: {
        id: guestId,
        name: guest.name,
        build: guest.build,
        shape: build.shape,
        text: build.text ?? '',
        size: build.size,
        place: guest.place,
        turn: guest.turn,
        trim: guest.trim,
      },
    })
  }
  found.sort((a, b) => a.at - b.at || (a.fixture.id < b.fixture.id ? -1 : 1))

  const fixtures: StageFixture[] = []
  let cells = 0
  for (const f of found) {
    fixtures.push({ ...f.fixture, firstCell: cells, cells: f.cells })
    cells += f.cells
  }
  const index = new Map(fixtures.map((f, i) => [f.id, i]))
  const own = (part: string): number[] =>
    (kit.parts[part]?.fixtures ?? []).flatMap(id => (index.has(id) ? [index.get(id)!] : []))

  const parts: Record<string, StagePart> = {}
  for (const part of Object.keys(kit.parts)) {
    const seen = new Set<string>()
    let from: string | undefined = part
    while (from !== undefined && own(from).length === 0 && !seen.has(from)) {
      seen.add(from)
      from = kit.parts[from]?.standIn
    }
    const source = from !== undefined && !seen.has(from) ? from : part
    parts[part] = { fixtures: own(source), cyclic: kit.parts[source]?.cyclic ?? false }
  }
  return { fixtures, cells, parts }
}
