// What the page asks of the worker that renders light rolls, and what comes back.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Diff } from '@glowchart/shared/show/diff.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Strand } from '../rows.ts'

/** One line's roll. Sizes in CSS px; `scale` device px each. */
export interface RollShape {
  /** Ticks of the bars' edges, bars + 1 of them. */
  readonly edges: readonly number[]
  readonly barWidth: number
  readonly rows: readonly RollRow[]
  readonly height: number
  /** Room around the rows for the bloom. */
  readonly pad: number
  /** Reach of the bloom. */
  readonly bloom: number
  readonly scale: number
}

export interface RollRow {
  readonly y: number
  readonly height: number
  readonly strands: readonly Strand[]
}

export interface Wanted {
  readonly shape: RollShape
  /** Equal for equal shapes in one place of the song. */
  readonly place: string
  /** Contents (see `content.ts`) of which the page has a picture of this shape. */
  readonly has: readonly string[]
}

/** One `draw` at a time, answered; `change` is on top of the documents that were sent last. */
export type ToRollWorker =
  | { type: 'load'; rig: Rig; show: Show; song: string }
  | { type: 'change'; rig: Diff; show: Diff; song: string }
  /**
   * What light the lines have, and a picture of the first that the page has none of. `inSight`: edits come to see them,
   * and want them drawn anew at once.
   */
  | { type: 'draw'; wanted: readonly Wanted[]; inSight: boolean }

export type FromRollWorker =
  | { type: 'drawn'; contents: string[]; drawn: { index: number; picture: ImageBitmap } | null }
  | { type: 'failed'; says: string }
