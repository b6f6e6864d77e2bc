// What edits changed in the documents, as it goes from process to process in the place of the documents themselves.

import { applyDiff, type Diff } from './diff.ts'
import type { Documents } from './edits/edit.ts'

/** The change of one of the documents. */
export interface DocumentChange {
  readonly document: 'rig' | 'show'
  readonly diff: Diff
}

/** Edits on top of the documents of revision `from`. */
export interface Changed {
  readonly from: number
  readonly revision: number
  readonly changes: readonly DocumentChange[]
}

/**
 * The documents after a change. They share with those before it what it left alone.
 * @throws CodedError `edit.conflict` when it was made on other documents
 */
export function afterChange({ rig, show }: Documents, { changes }: Changed): Documents {
  let documents = { rig, show }
  for (const { document, diff } of changes) {
    documents = { ...documents, [document]: applyDiff(documents[document], diff) }
  }
  return documents
}
