// What the page asks of the worker that reads songs for advice, and what comes back.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'

/** A request; a newer one ends it. The show has at least the songs asked about, and all of them for the stage. */
export interface ToAdviceWorker {
  readonly id: number
  readonly rig: Rig
  readonly show: Show
  readonly stage: boolean
  /** In this order. */
  readonly songs: readonly string[]
}

export interface FromAdviceWorker {
  readonly id: number
  /** Null for the stage. */
  readonly song: string | null
  readonly advice: readonly Advice[]
}
