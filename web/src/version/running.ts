// Which version runs, as the app told it, and the documents that the engine plays: those of the version, else the draft.

import type { AppMessage } from '@glowchart/shared/messages.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { changesBetween, type VersionChange } from '@glowchart/shared/version/changes.ts'
import type { Checked } from '@glowchart/shared/version/request.ts'
import { sharing } from '@glowchart/shared/version/sharing.ts'
import { useMemo } from 'react'
import { create } from 'zustand'
import { shownDocuments, useDocument } from '../document/document.ts'
import { type Tonight, tonightOf } from '../document/viewed.ts'

type Told = Omit<Extract<AppMessage, { type: 'version' }>, 'type'>

interface Asked {
  /** What the app last answered to a check. */
  readonly checked: Checked | null
  /** How many songs the check under way has read; null before it has told. */
  readonly checking: { readonly read: number; readonly songs: number } | null
}

export const useVersion = create<Told & Asked>(() => ({
  running: null,
  versions: [],
  damaged: [],
  checked: null,
  checking: null,
}))

export function takeVersion({ running, versions, damaged }: Told): void {
  const draft = shownDocuments()
  // What is equal in both is the same object: the difference is then found at once, and what is drawn can stay.
  const same = running &&
    draft && { rig: sharing(running.rig, draft.rig), show: sharing(running.show, draft.show) }
  useVersion.setState({ running: running && { ...running, ...same }, versions, damaged, checked: null })
}

/** Another show is open: its versions come behind the greeting. */
export function forgetVersionsOfOthers(show: string): void {
  const { running } = useVersion.getState()
  if (running && running.show.id !== show) useVersion.setState({ running: null, versions: [], damaged: [] })
}

/** The documents that the engine plays; null before the app has sent any. */
export const playedNow = (): Documents | null => useVersion.getState().running ?? shownDocuments()

/** The same for what is drawn; with tonight's stage as it plays. */
export function usePlayed(): (Documents & { readonly tonight: Tonight }) | null {
  const running = useVersion(s => s.running)
  const draftRig = useDocument(s => s.rig)
  const draftShow = useDocument(s => s.show)
  const rig = running?.rig ?? draftRig
  const show = running?.show ?? draftShow
  const kit = show?.kits[show.tonight]
  const tonight = useMemo(() => (rig && kit ? tonightOf(rig, kit) : null), [rig, kit])
  return useMemo(() => (rig && show && tonight ? { rig, show, tonight } : null), [rig, show, tonight])
}

const NONE: readonly VersionChange[] = []

/** What the draft has that the running version has not; nothing in rehearsal. */
export function usePending(): readonly VersionChange[] {
  const running = useVersion(s => s.running)
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  return useMemo(
    () => (running && rig && show ? changesBetween(running, { rig, show }) : NONE),
    [running, rig, show],
  )
}
