// What the paper asks of its worker, and what comes back: light rolls in ink.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { RollShape } from '../../chart/roll/request.ts'

/** Later requests are of the documents that were loaded last. */
export type ToInkWorker =
  | { type: 'load'; rig: Rig; show: Show }
  | { type: 'draw'; id: number; song: string; shape: RollShape }

export type FromInkWorker =
  | { type: 'drawn'; id: number; picture: ImageBitmap }
  | { type: 'failed'; id: number; says: string }
