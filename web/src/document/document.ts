// The document state: the rig and the show as this page shows them, with its own edits the server has not answered yet.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { create } from 'zustand'

interface DocumentState {
  rig: Rig | null
  show: Show | null
}

export const useDocument = create<DocumentState>(() => ({ rig: null, show: null }))

/** The documents as they are shown; null before the server has sent any. */
export function shownDocuments(): Documents | null {
  const { rig, show } = useDocument.getState()
  return rig && show ? { rig, show } : null
}
