// A part laid out for its motions: the place of every fixture and of every cell in the part's order.

import { directions } from '../light/schema.ts'
import type { Stage, StagePart } from '../rig/stage.ts'
import type { CompiledPart } from './compiled.ts'
import type { Layout } from './motion/layout.ts'

/** Lays out a part. A fixture that is named twice plays where it comes first. */
export function layoutPart(id: string, part: StagePart, stage: Stage): CompiledPart {
  const fixtures = [...new Set(part.fixtures)].map(index => stage.fixtures[index]!)
  const cells = fixtures.flatMap(f => Array.from({ length: f.cells }, (_, i) => f.firstCell + i))
  return {
    id,
    cells: Int32Array.from(cells),
    fixtureLayout: layout(
      fixtures.map(f => f.cells),
      part.cyclic,
    ),
    cellLayout: layout(
      cells.map(() => 1),
      part.cyclic,
    ),
  }
}

/** Elements one after the other, each of so many cells. */
function layout(cells: readonly number[], cyclic: boolean): Layout {
  const count = cells.length
  const first = new Int32Array(count)
  for (let i = 1; i < count; i++) first[i] = first[i - 1]! + cells[i - 1]!
  const gaps = cyclic ? count : Math.max(1, count - 1)
  const places = (direction: (typeof directions)[number]) =>
    Float64Array.from({ length: count }, (_, i) => placed(direction, i / gaps, cyclic))
  const [forward, backward, outward, inward] = directions
  return {
    count,
    cyclic,
    x: [places(forward), places(backward), places(outward), places(inward)],
    first,
    cells: Int32Array.from(cells),
  }
}

function placed(direction: (typeof directions)[number], x: number, cyclic: boolean): number {
  switch (direction) {
    case 'forward':
      return x
    case 'backward':
      // Of a ring, the end is the beginning.
      return cyclic && x === 0 ? 0 : 1 - x
    case 'outward':
      return 2 * Math.abs(x - 0.5)
    case 'inward':
      return 1 - 2 * Math.abs(x - 0.5)
  }
}
