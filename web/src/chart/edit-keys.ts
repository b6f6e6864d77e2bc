// The keys of the editor, and how the key list names them.

import { clearChoice } from '../document/choice.ts'
import { redo, undo } from '../document/editing.ts'
import { beginLook } from '../look/naming.ts'
import { dropGathered, useGathered } from '../stage/gathered.ts'
import {
  addAtPlayhead,
  copyChosen,
  deleteChosen,
  nudge,
  nudgeLevel,
  nudgePart,
  pasteAtPlayhead,
  splitAtPlayhead,
  stretch,
} from './hands.ts'
import { walkInParts, walkInTime } from './walk.ts'

/** By key with the modifiers held, in the order Ctrl, Alt, Shift; letters are small. */
export const editActions: Readonly<Record<string, () => unknown>> = {
  Escape: () => (useGathered.getState().ids.length > 0 ? dropGathered() : clearChoice()),
  ArrowRight: () => walkInTime(1),
  ArrowLeft: () => walkInTime(-1),
  ArrowDown: () => walkInParts(1),
  ArrowUp: () => walkInParts(-1),
  'Shift+ArrowRight': () => walkInTime(1, true),
  'Shift+ArrowLeft': () => walkInTime(-1, true),
  'Alt+ArrowRight': () => nudge(1),
  'Alt+ArrowLeft': () => nudge(-1),
  'Alt+ArrowDown': () => nudgePart(1),
  'Alt+ArrowUp': () => nudgePart(-1),
  'Alt+Shift+ArrowRight': () => stretch(1),
  'Alt+Shift+ArrowLeft': () => stretch(-1),
  'Shift+ArrowUp': () => nudgeLevel(1),
  'Shift+ArrowDown': () => nudgeLevel(-1),
  a: addAtPlayhead,
  '/': splitAtPlayhead,
  n: beginLook,
  Delete: deleteChosen,
  Backspace: deleteChosen,
  'Ctrl+c': copyChosen,
  'Ctrl+v': pasteAtPlayhead,
  'Ctrl+z': undo,
  'Ctrl+Shift+z': redo,
}

export const editKeyList: readonly (readonly [string, string])[] = [
  ['← →', 'cue before, after on the part'],
  ['↑ ↓', 'nearest cue on the part above, below'],
  ['Shift ← →', 'choose one cue more'],
  ['Alt ← →', 'move by a step of the grid'],
  ['Alt ↑ ↓', 'move to the part above, below'],
  ['Alt Shift ← →', 'shorter, longer'],
  ['Shift ↑ ↓', 'brighter, darker'],
  ['A', 'new cue at the playhead'],
  ['/', 'split at the playhead'],
  ['N', 'name the chosen cues, or the stage now, as a look'],
  ['Delete', 'delete the chosen cues'],
  ['Ctrl C  V', 'copy, paste at the playhead'],
  ['Ctrl Z', 'undo'],
  ['Ctrl Shift Z', 'redo'],
  ['Tab to the stage', '← → from fixture to fixture, Space gathers it, hold Enter to light it'],
  ['Esc', 'drop what is dragged, unchoose'],
]
