// What the page asks of the worker that meters the songs' currents, and what comes back.

import type { BoxPeak } from '@glowchart/shared/power/meter.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'

/** A request; a newer one ends it. The show has at least the songs asked about. */
export interface ToPeakWorker {
  readonly id: number
  readonly rig: Rig
  readonly show: Show
  readonly kit: string
  /** In this order. */
  readonly songs: readonly string[]
}

export type FromPeakWorker =
  | { readonly id: number; readonly song: string; readonly peaks: readonly BoxPeak[] }
  /** How much of this song is metered, 0…1. */
  | { readonly id: number; readonly song: string; readonly share: number }
