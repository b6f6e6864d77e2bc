// The light of what is being dragged: the rolls are drawn from the show as it would be.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { previewEdit } from '@glowchart/shared/show/edits.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect } from 'react'
import type { Told } from '../document/editing.ts'
import type { Rolls } from './roll/rolls.ts'

/** The show with edits that are not made yet; null, where they cannot be made. */
function showWith(rig: Rig, show: Show, edits: readonly Told[]): Show | null {
  try {
    return edits.reduce((now, [name, args]) => previewEdit({ rig, show: now }, name, args).show, show)
  } catch {
    return null
  }
}

/** @param dragged what a drag would do if it were let go now; null: nothing is dragged */
export function usePreview(rolls: Rolls | null, rig: Rig, show: Show, dragged: readonly Told[] | null): void {
  useEffect(() => {
    rolls?.preview(dragged && showWith(rig, show, dragged))
  }, [rolls, rig, show, dragged])
}
