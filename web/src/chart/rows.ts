// The rows of a line: one a part, highest on the stage first, and in each row one strand a fixture (or a cell).

import type { Stage } from '@glowchart/shared/rig/stage.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Song } from '@glowchart/shared/show/song.ts'

/** Cells of the stage that one strand shows: their mean. */
export interface Strand {
  readonly firstCell: number
  readonly cells: number
}

export interface PartStrands {
  readonly part: string
  readonly name: string
  readonly strands: readonly Strand[]
  /** Where its staff lines stand, in strands from the top of the row: one a fixture, through its middle. */
  readonly staves: readonly number[]
  /** The part's cue tracks in the song, each over those above it; none when it does not matter. */
  readonly tracks: readonly string[]
}

/** The height of a row that the cues of one track take: all tracks' light is one roll behind them. */
export interface Lane {
  readonly track: string
  readonly y: number
  readonly height: number
}

export interface Row {
  readonly part: PartStrands
  readonly y: number
  readonly height: number
  /** One a track, where a part has several; else the row is the lane. */
  readonly lanes: readonly Lane[]
}

/** With more cells than this in a part, a strand is a whole fixture. */
const MOST_CELLS = 64

/** @param song whose cue tracks are to have lanes of their own */
export function strandsOf(
  { partOrder, parts }: Pick<Show, 'partOrder' | 'parts'>,
  stage: Stage,
  song?: Pick<Song, 'tracks' | 'trackOrder'>,
): PartStrands[] {
  return partOrder.flatMap(part => {
    const named = parts[part]
    if (!named) return []
    const fixtures = (stage.parts[part]?.fixtures ?? []).map(i => stage.fixtures[i]!)
    const byCell = fixtures.reduce((sum, f) => sum + f.cells, 0) <= MOST_CELLS
    const strands: Strand[] = []
    const staves: number[] = []
    for (const f of fixtures) {
      const count = byCell ? f.cells : 1
      staves.push(strands.length + count / 2)
      for (let i = 0; i < count; i++) {
        strands.push(
          byCell ? { firstCell: f.firstCell + i, cells: 1 } : { firstCell: f.firstCell, cells: f.cells },
        )
      }
    }
    const tracks = song?.trackOrder.filter(track => song.tracks[track]!.part === part) ?? []
    return [{ part, name: named.name, strands, staves, tracks }]
  })
}

const OPEN_GAP = 6
/** Room for the brackets and the name of a cue on one of several tracks, px. */
const LANE = 18
const FOLDED_GAP = 1.5

/**
 * Heights of the rows. Open, a strand has about 6 px, less in a large part, never under 1. Folded, five parts share
 * the height of a staff; from six parts on each keeps a staff space, so that none is lost.
 */
export function rowsOf(parts: readonly PartStrands[], open: boolean): Rows {
  const known = open ? opened : folded
  const rows = known.get(parts) ?? layRows(parts, open)
  known.set(parts, rows)
  return rows
}

interface Rows {
  readonly rows: readonly Row[]
  readonly height: number
}

const opened = new WeakMap<readonly PartStrands[], Rows>()
const folded = new WeakMap<readonly PartStrands[], Rows>()

function layRows(parts: readonly PartStrands[], open: boolean): Rows {
  const total = parts.reduce((sum, p) => sum + Math.max(3, Math.min(16, p.strands.length)), 0)
  const gap = open ? OPEN_GAP : FOLDED_GAP
  const staff = Math.max(40, parts.length * 7)
  let y = 0
  const rows = parts.map(part => {
    const n = part.strands.length
    const share = Math.max(3, Math.min(16, n)) / Math.max(1, total)
    const several = open && part.tracks.length > 1 ? part.tracks : []
    const height = open
      ? Math.round(Math.max(22, Math.min(6 * n, Math.max(42, n)), LANE * several.length))
      : Math.max(5, Math.round(staff * share))
    const each = height / Math.max(1, several.length)
    const lanes = several.map((track, i) => ({ track, y: y + i * each, height: each }))
    const row = { part, y, height, lanes }
    y += height + gap
    return row
  })
  return { rows, height: Math.max(0, y - gap) }
}

/** Where a track's cues stand in its part's row: its lane, or the whole row. */
export const laneOf = (row: Row, track: string | null): Pick<Row, 'y' | 'height'> =>
  row.lanes.find(lane => lane.track === track) ?? row
