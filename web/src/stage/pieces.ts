// What a fixture is drawn of: one piece a cell (or a few cells), each with its outline, place and turn.

import type { StageFixture } from '@glowchart/shared/rig/stage.ts'

/** The outline of a piece around its own middle, px. */
export type Outline =
  | { readonly kind: 'stroke'; readonly width: number; readonly dx: number; readonly dy: number }
  | { readonly kind: 'disc'; readonly radius: number }
  | { readonly kind: 'arc'; readonly radius: number; readonly width: number; readonly sweep: number }
  | { readonly kind: 'plate'; readonly width: number; readonly height: number }
  | { readonly kind: 'letter'; readonly text: string; readonly size: number }

export interface Piece {
  readonly outline: Outline
  /** From the fixture's middle, px, before its turn. */
  readonly x: number
  readonly y: number
  readonly turn: number
  readonly firstCell: number
  readonly cells: number
}

/** More pieces than this cannot be told apart in the band. */
const MOST = 24

/** @param metre px a metre */
export function piecesOf(fixture: StageFixture, metre: number): Piece[] {
  const long = fixture.size.long * metre
  const across = Math.max(2.2, fixture.size.across * metre)
  const letters = [...fixture.text]
  if (fixture.shape === 'letters' && letters.length > 0) return lettersOf(fixture, letters, long)
  const count = Math.min(MOST, fixture.cells)
  return Array.from({ length: count }, (_, i) => {
    const firstCell = fixture.firstCell + Math.floor((i * fixture.cells) / count)
    const cells = fixture.firstCell + Math.floor(((i + 1) * fixture.cells) / count) - firstCell
    return { ...shaped(fixture, i, count, long, across, metre), firstCell, cells }
  })
}

type Shaped = Pick<Piece, 'outline' | 'x' | 'y' | 'turn'>

function shaped(
  fixture: StageFixture,
  i: number,
  count: number,
  long: number,
  across: number,
  metre: number,
): Shaped {
  const step = long / count
  const middle = (i + 0.5) * step - long / 2
  const still = { x: 0, y: 0, turn: 0 }
  switch (fixture.shape) {
    case 'bulb':
      return { ...still, outline: { kind: 'disc', radius: Math.max(3, long / 2) } }
    case 'ring': {
      const sweep = (2 * Math.PI) / count
      const radius = Math.max(5, long / 2)
      return {
        ...still,
        turn: i * sweep,
        outline: {
          kind: 'arc',
          radius,
          width: Math.max(2, Math.min(across, metre * 0.055)),
          sweep,
        },
      }
    }
    case 'panel': {
      const columns = Math.ceil(Math.sqrt(count * (long / across)))
      const lines = Math.ceil(count / columns)
      const width = long / columns
      const height = across / lines
      const x = ((i % columns) + 0.5) * width - long / 2
      const y = (Math.floor(i / columns) + 0.5) * height - across / 2
      return { x, y, turn: 0, outline: { kind: 'plate', width: width - 0.6, height: height - 0.6 } }
    }
    case 'tube':
      return {
        ...still,
        y: -middle,
        outline: { kind: 'stroke', width: Math.min(Math.max(4, metre * 0.05), across), dx: 0, dy: step },
      }
    case 'bar':
      return {
        ...still,
        x: middle,
        outline: { kind: 'stroke', width: Math.min(Math.max(5, metre * 0.06), across), dx: step, dy: 0 },
      }
    case 'line':
    case 'letters':
      return {
        ...still,
        x: middle,
        outline: { kind: 'stroke', width: Math.max(2, metre * 0.012), dx: step, dy: 0 },
      }
  }
}

function lettersOf(fixture: StageFixture, letters: readonly string[], long: number): Piece[] {
  const single = letters.length === 1
  const step = long / letters.length
  const size = single ? long * 1.3 : Math.max(9, step * 1.08)
  return letters.map((text, i) => {
    const first = Math.min(fixture.cells - 1, Math.floor((i * fixture.cells) / letters.length))
    const end = Math.max(first + 1, Math.floor(((i + 1) * fixture.cells) / letters.length))
    return {
      outline: { kind: 'letter', text, size },
      x: (i + 0.5) * step - long / 2,
      y: 0,
      turn: 0,
      firstCell: fixture.firstCell + first,
      cells: end - first,
    }
  })
}
