// The places of the page, and which one is open: it stands in the address, so that back, forward and links work.

import { isAtLeast, type Role } from '@glowchart/shared/access/role.ts'
import { type ComponentType, useSyncExternalStore } from 'react'
import { checkKeyList } from './check/key-list.ts'
import { useSession } from './document/session.ts'

/** A place beside the chart: its name in the head, and the code that draws it, loaded when it is first opened. */
export interface Place {
  readonly id: string
  readonly name: string
  readonly load: () => Promise<{ default: ComponentType }>
  /** Who may open it; left out: whoever has the controls. */
  readonly least?: Role
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
    least: 'checker',
    load: () => import('./check/CheckPage.tsx'),
    keys: checkKeyList,
  },
  { id: 'paper', name: 'Paper', load: () => import('./paper/PaperPage.tsx') },
  { id: 'preflight', name: 'Before doors', load: () => import('./preflight/PreflightPage.tsx') },
  { id: 'phones', name: 'Phones', least: 'owner', load: () => import('./access/PhonesPage.tsx') },
  { id: 'run', name: 'Run', least: 'viewer', load: () => import('./run/RunPage.tsx') },
]

const CHART = 'chart'
const RUN = 'run'

/** Whether a page of this role may open a place by its id. */
export const mayOpen = (role: Role, id: string): boolean =>
  isAtLeast(role, places.find(place => place.id === id)?.least ?? 'controller')

/** The id of the place that is open; an address that names none is the chart. Who only looks on sees the run page. */
export const placeNow = (): string => placeFor(useSession.getState().role)

function placeFor(role: Role): string {
  const id = location.hash.slice(1)
  const named = places.some(place => place.id === id) ? id : CHART
  return mayOpen(role, named) ? named : RUN
}

/** Keys of the chart work only while it is open. */
export const isOnChart = (): boolean => placeNow() === CHART

export const usePlace = (): string => useSyncExternalStore(watchPlace, placeNow)

function watchPlace(changed: () => void): () => void {
  window.addEventListener('hashchange', changed)
  const forget = useSession.subscribe((now, before) => {
    if (now.role === before.role) return
    // The address may name a place that could not be opened: when more is given, the page stays where it is.
    if (before.link !== 'opening' && placeFor(before.role) === RUN) history.replaceState(null, '', `#${RUN}`)
    changed()
  })
  return () => {
    window.removeEventListener('hashchange', changed)
    forget()
  }
}
