// The choice: the cues that the next key, press or value is about. It follows cues that move to another section.

import type { Song } from '@glowchart/shared/show/song.ts'
import { create } from 'zustand'
import { useDocument } from './document.ts'
import { useSession } from './session.ts'
import { viewedSongNow } from './viewed.ts'

/** A cue by the section whose record holds it (the source, where it is seen over a link). */
export interface ChosenCue {
  readonly section: string
  readonly cue: string
}

interface Choice {
  readonly cues: readonly ChosenCue[]
}

export const useChoice = create<Choice>(() => ({ cues: [] }))

export const choose = (cues: readonly ChosenCue[]): void => useChoice.setState({ cues })

/** Adds a cue to the choice, or takes it out. */
export function toggleChosen(cue: ChosenCue): void {
  const { cues } = useChoice.getState()
  const without = cues.filter(other => !isSame(other, cue))
  choose(without.length < cues.length ? without : [...cues, cue])
}

export function clearChoice(): void {
  if (useChoice.getState().cues.length > 0) choose([])
}

const isSame = (a: ChosenCue, b: ChosenCue): boolean => a.section === b.section && a.cue === b.cue

/** A cue's key in sets and maps. */
export const keyOfCue = ({ section, cue }: ChosenCue): string => `${section}/${cue}`

/** The keys of the cues chosen now. */
export const chosenKeys = (): ReadonlySet<string> => new Set(useChoice.getState().cues.map(keyOfCue))

/** Where a cue is in a song by now; null when it is gone. */
function found(song: Song, cue: ChosenCue): ChosenCue | null {
  if (song.sections[cue.section]?.cues[cue.cue]) return cue
  const section = song.sectionOrder.find(id => song.sections[id]?.cues[cue.cue])
  return section === undefined ? null : { section, cue: cue.cue }
}

function follow(): void {
  const { cues } = useChoice.getState()
  if (cues.length === 0) return
  const song = viewedSongNow()?.song
  const now = song ? cues.flatMap(cue => found(song, cue) ?? []) : []
  if (now.length !== cues.length || now.some((cue, i) => cue !== cues[i])) choose(now)
}
useDocument.subscribe(follow)
useSession.subscribe((now, before) => {
  if (now.song !== before.song) follow()
})
