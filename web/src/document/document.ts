// The document state: the rig and the show as the server has them, saved and shared; every diff applied in order.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { applyDiff, type Diff, sameValue } from '@glowchart/shared/show/diff.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { create } from 'zustand'

interface DocumentState {
  rig: Rig | null
  show: Show | null
  revision: number
}

export const useDocument = create<DocumentState>(() => ({ rig: null, show: null, revision: 0 }))

/** Takes the whole state, as the server says it on connecting. */
export function takeDocuments(rig: Rig, show: Show, revision: number): void {
  const now = useDocument.getState()
  // What is equal keeps its identity: a reconnect must not throw away what is drawn.
  useDocument.setState({
    rig: sameValue(now.rig, rig) ? now.rig : rig,
    show: sameValue(now.show, show) ? now.show : show,
    revision,
  })
}

/** Applies one edit. False when it does not follow on what stands here: then the whole state is needed again. */
export function takeDiff(revision: number, which: 'rig' | 'show', diff: Diff): boolean {
  const { rig, show, revision: last } = useDocument.getState()
  if (revision <= last) return true
  if (!rig || !show || revision !== last + 1) return false
  try {
    if (which === 'rig') useDocument.setState({ rig: applyDiff(rig, diff), revision })
    else useDocument.setState({ show: applyDiff(show, diff), revision })
    return true
  } catch {
    return false
  }
}
