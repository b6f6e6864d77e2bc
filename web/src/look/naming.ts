// A look that is about to be named: taken from the chosen cues, or from what is on the stage now.

import type { Look } from '@glowchart/shared/show/schema.ts'
import { create } from 'zustand'
import { chosenOf } from '../cue/chosen.ts'
import { type ChosenCue, chooseThing, useChoice } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { editTogether, type Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { say } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { stageNow } from './stage-now.ts'

interface Unnamed {
  readonly parts: Look['parts']
  /** The song and the cues that will have their light from the look. */
  readonly from: { readonly song: string; readonly cues: readonly ChosenCue[] } | null
}

export const useUnnamed = create<{ look: Unnamed | null }>(() => ({ look: null }))

/** Begins a look out of the chosen cues, the first of each part; without a choice, out of the stage as it is. */
export function beginLook(): void {
  const viewed = viewedSongNow()
  const show = useDocument.getState().show
  const { cues } = useChoice.getState()
  if (!viewed || !show) return
  const chosen = chosenOf(show, viewed, cues)
  if (chosen.length === 0) {
    beginLookOfStage()
    return
  }
  const parts: Look['parts'] = {}
  for (const { track, light } of chosen) parts[track.part] ??= light
  const alike = chosen.filter(
    ({ track, light }) => JSON.stringify(light) === JSON.stringify(parts[track.part]),
  )
  useUnnamed.setState({ look: { parts, from: { song: viewed.id, cues: alike.map(one => one.ref) } } })
}

/** Begins a look out of what is on the stage now. */
export function beginLookOfStage(): void {
  const parts = stageNow()
  if (Object.keys(parts).length === 0) say('Nothing is lit on the stage now.')
  else useUnnamed.setState({ look: { parts, from: null } })
}

export const dropLook = (): void => useUnnamed.setState({ look: null })

/** Keeps the look under a name; the cues that it was taken from follow it from now on. */
export function keepLook(name: string): void {
  const { look } = useUnnamed.getState()
  if (!look) return
  const id = newId('look')
  const told: Told[] = [['addLook', { look: id, name, parts: look.parts }]]
  if (look.from) told.push(['linkCueToLook', { song: look.from.song, cues: [...look.from.cues], look: id }])
  void editTogether(`Add the look ${name}`, told)
  dropLook()
  if (!look.from) chooseThing('look', id)
}
