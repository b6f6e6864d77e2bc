// The keys of sections: those that act on the chosen one come before the keys of cues.

import { sectionAt } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { songPosition } from '../transport/moves.ts'
import {
  addAfterChosen,
  chooseSection,
  chosenSection,
  deleteSection,
  duplicateSection,
  moveSection,
  stepChosen,
} from './acts.ts'
import { insertBarsHere, removeBarsHere } from './bars-keys.ts'
import { focusMark, noteInPlace, renameInPlace } from './focus.ts'
import { copySection, pasteOnto } from './landing.ts'

/** By key as in `editActions`; they take the place of those while a section is chosen. */
const chosenActions: Readonly<Record<string, (section: string) => void>> = {
  ArrowUp: () => stepChosen(-1),
  ArrowDown: () => stepChosen(1),
  'Alt+ArrowUp': id => moveSection(id, -1),
  'Alt+ArrowDown': id => moveSection(id, 1),
  Delete: deleteSection,
  Backspace: deleteSection,
  F2: renameInPlace,
  'Shift+F2': noteInPlace,
  'Ctrl+c': copySection,
  'Ctrl+v': pasteOnto,
  'Ctrl+d': id => duplicateSection(id, false),
  'Ctrl+Shift+d': id => duplicateSection(id, true),
}

const actions: Readonly<Record<string, () => void>> = {
  s: chooseHere,
  i: insertBarsHere,
  'Shift+Delete': removeBarsHere,
  'Shift+Backspace': removeBarsHere,
  'Ctrl+Enter': addAfterChosen,
}

/** What a key does to sections now; undefined when it is for something else. */
export function sectionAction(chord: string): (() => void) | undefined {
  const id = chosenSection()
  const act = id === null ? undefined : chosenActions[chord]
  return act ? () => act(id!) : actions[chord]
}

export const sectionKeyList: readonly (readonly [string, string])[] = [
  ['S', 'choose the section at the playhead'],
  ['Ctrl Enter', 'new section after the chosen one, or at the end'],
  ['I', 'insert the looped bars, or a bar at the playhead'],
  ['Shift Delete', 'remove the looped bars'],
  ['↑ ↓', 'a section before, after (while one is chosen)'],
  ['Alt ↑ ↓', 'move the chosen section earlier, later'],
  ['F2', 'rename it'],
  ['Shift F2', 'write its note'],
  ['Ctrl D', 'duplicate it; with Shift repeat it, linked'],
  ['Ctrl C  V', 'copy it, bring it onto another'],
  ['Delete', 'delete it'],
]

function chooseHere(): void {
  const viewed = viewedSongNow()
  const here =
    viewed && (sectionAt(viewed.timeline, ticks(songPosition())) ?? viewed.timeline.sections.at(-1))
  if (!here) return
  chooseSection(here.id)
  focusMark(here.id)
}
