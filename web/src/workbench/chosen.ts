// What is chosen on the workbench: a build, a box, or one of the two ways to take in a fixture that others made.

import { create } from 'zustand'
import { useDocument } from '../document/document.ts'

export type OnTheBench =
  | { readonly kind: 'build' | 'box'; readonly id: string }
  | { readonly kind: 'file' | 'walk' }
  | null

export const useBench = create<{ chosen: OnTheBench }>(() => ({ chosen: null }))

export const putOnBench = (chosen: OnTheBench): void => useBench.setState({ chosen })

/** What is gone is no longer chosen. */
useDocument.subscribe(({ rig }) => {
  const { chosen } = useBench.getState()
  if (!rig || !chosen || !('id' in chosen)) return
  const list = chosen.kind === 'build' ? rig.builds : rig.boxes
  if (!list[chosen.id]) putOnBench(null)
})
