// What the page asks of the worker that reads songs for advice, and what comes back.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import type { Diff } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

/** A request; a newer one ends it. */
export interface ToAdviceWorker {
  readonly id: number
  /** The documents, or what changed in those that were sent last. */
  readonly documents: Documents | { readonly change: { readonly rig: Diff; readonly show: Diff } }
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
