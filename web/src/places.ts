// The places of the page, and which one is open: it stands in the address, so that back, forward and links work.

import { type ComponentType, useSyncExternalStore } from 'react'
import { checkKeyList } from './check/key-list.ts'

/** A place beside the chart: its name in the head, and the code that draws it, loaded when it is first opened. */
export interface Place {
  readonly id: string
  readonly name: string
  readonly load: () => Promise<{ default: ComponentType }>
  /** Its keys and what they do, for the list of keys; left out: those of the chart. */
  readonly keys?: readonly (readonly [string, string])[]
}

/** In the order of the work: written, listed, built, checked, printed, made sure of before doors, played. The chart comes first and is always there. */
export const places: readonly Place[] = [
  { id: 'setlist', name: 'Set list', load: () => import('./setlist/SetListPage.tsx') },
  { id: 'workbench', name: 'Workbench', load: () => import('./workbench/WorkbenchPage.tsx') },
  { id: 'rig', name: 'Rig', load: () => import('./rig/RigPage.tsx') },
  { id: 'outputs', name: 'Output', load: () => import('./output/OutputPage.tsx') },
  {
    id: 'check',
    name: 'Line check',
    load: () => import('./check/CheckPage.tsx'),
    keys: checkKeyList,
  },
  { id: 'paper', name: 'Paper', load: () => import('./paper/PaperPage.tsx') },
  { id: 'preflight', name: 'Before doors', load: () => import('./preflight/PreflightPage.tsx') },
  { id: 'run', name: 'Run', load: () => import('./run/RunPage.tsx') },
]

const CHART = 'chart'

/** The id of the place that is open; an address that names none is the chart. */
export function placeNow(): string {
  const id = location.hash.slice(1)
  return places.some(place => place.id === id) ? id : CHART
}

/** Keys of the chart work only while it is open. */
export const isOnChart = (): boolean => placeNow() === CHART

export const usePlace = (): string => useSyncExternalStore(watchPlace, placeNow)

function watchPlace(changed: () => void): () => void {
  window.addEventListener('hashchange', changed)
  return () => window.removeEventListener('hashchange', changed)
}
