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

/** One `survey` or `draw` at a time, each answered; `change` is on top of the documents that were sent last. */
export type ToRollWorker =
  | { type: 'load'; rig: Rig; show: Show; song: string }
  | { type: 'change'; rig: Diff; show: Diff; song: string }
  /** What light the lines have, by the edges of their bars: see `content.ts`. */
  | { type: 'survey'; lines: readonly (readonly number[])[] }
  | { type: 'draw'; shape: RollShape }

export type FromRollWorker =
  | { type: 'surveyed'; contents: string[] }
  | { type: 'drawn'; content: string; picture: ImageBitmap }
  | { type: 'failed'; says: string }
