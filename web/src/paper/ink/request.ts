// What the paper asks of its worker, and what comes back: light rolls in ink, and the currents of songs.

import type { BoxPeak } from '@glowchart/shared/power/meter.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { RollShape } from '../../chart/roll/request.ts'

/** Later requests are of the documents that were loaded last. */
export type ToInkWorker =
  | { type: 'load'; rig: Rig; show: Show }
  | { type: 'peaks'; id: number; song: string }
  | { type: 'draw'; id: number; song: string; shape: RollShape }

export type FromInkWorker =
  | { type: 'peaks'; id: number; peaks: BoxPeak[] }
  | { type: 'drawn'; id: number; picture: ImageBitmap }
  | { type: 'failed'; id: number; says: string }
