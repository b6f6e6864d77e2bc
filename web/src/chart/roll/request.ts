// What the page asks of the worker that renders light rolls, and what comes back.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Strand } from '../rows.ts'

/** One line's roll. Sizes in CSS px; `scale` device px each. */
export interface RollShape {
  /** Ticks of the bars' edges, bars + 1 of them. */
  readonly edges: readonly number[]
  readonly barWidth: number
  readonly rows: readonly {
    readonly y: number
    readonly height: number
    readonly strands: readonly Strand[]
  }[]
  readonly height: number
  /** Room around the rows for the bloom. */
  readonly pad: number
  /** Reach of the bloom. */
  readonly bloom: number
  readonly scale: number
}

export type ToRollWorker =
  | { type: 'song'; rig: Rig; show: Show; song: string }
  | { type: 'roll'; id: number; shape: RollShape }

export type FromRollWorker =
  | { type: 'rolled'; id: number; picture: ImageBitmap }
  /** `id` is null when the song itself could not be compiled. */
  | { type: 'failed'; id: number | null; says: string }
