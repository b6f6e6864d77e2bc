// Rough-in drafts: each try takes the place of the one before it, so that one step back takes all of it away.

import type { Mood } from '@glowchart/shared/show/rough-in/moods.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { useDocument } from '../document/document.ts'
import { editTogether, lastStep, type Told, undo, useHistory } from '../document/editing.ts'

/** The last draft of this page: the song, and its step in the history. */
let last: { readonly song: string; readonly step: number } | null = null

/** True while the song's draft is the last thing done on this page: another one would take its place. */
export const draftStands = (song: string): boolean => last?.song === song && last.step === lastStep()

/**
 * Writes cues by moods; a draft of the same song that was this page's last step goes first.
 * @param over sections whose own cues make room; those of others stay, and no draft comes over them
 * @returns the draft's step in the history; null when it was refused, and the session's problem says why
 */
export function writeDraft(
  song: string,
  moods: Readonly<Record<string, Mood>>,
  seed: number,
  over: ReadonlySet<string>,
): number | null {
  if (draftStands(song)) void undo()
  const value = useDocument.getState().show?.songs[song]
  if (!value) return null
  const before = lastStep()
  const written = Object.entries(moods).filter(([id]) => value.sections[id] && !hasCues(value, id, over))
  const cues = written.flatMap(([section]) =>
    Object.keys(value.sections[section]!.cues).map(cue => ({ section, cue })),
  )
  const clearing: Told[] = cues.length > 0 ? [['deleteCues', { song, cues }]] : []
  void editTogether(`Rough in "${value.title}"`, [
    ...clearing,
    ['roughIn', { song, moods: Object.fromEntries(written), seed }],
  ])
  if (lastStep() === before) return null
  last = { song, step: lastStep() }
  return last.step
}

/** Takes the draft back, where it is still the last thing done. */
export function dropDraft(song: string): void {
  if (draftStands(song)) void undo()
}

const hasCues = (song: Song, section: string, over: ReadonlySet<string>): boolean =>
  !over.has(section) && Object.keys(song.sections[section]!.cues).length > 0

/** Calls back whenever a step comes or goes. */
export const useLastStep = (): number =>
  useHistory(s => s.log.findLast(one => !one.undone && !one.elsewhere)?.key ?? 0)
