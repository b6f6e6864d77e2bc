// The keys of the editor, and how the key list names them.

import { closeAdvice } from '../advice/open.ts'
import { clearChoice } from '../document/choice.ts'
import { redo, undo } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { openIntake } from '../intake/open.ts'
import { toLooks } from '../look/find.ts'
import { beginLook } from '../look/naming.ts'
import { closeOutput } from '../output/open.ts'
import { dropGathered, useGathered } from '../stage/gathered.ts'
import { copyChosen, pasteAtPlayhead, pasteOnChosenPart } from './clipboard.ts'
import { stepSnap } from './Foot.tsx'
import {
  addAtPlayhead,
  deleteChosen,
  joinChosen,
  lengthen,
  nudge,
  nudgeLevel,
  nudgePart,
  splitAtPlayhead,
  stretch,
} from './hands.ts'
import { leave } from './reach.ts'
import { toColour, toFade, toLevel, toMotion, turnLine, walkInParts, walkInTime } from './walk.ts'

/** By key with the modifiers held, in the order Ctrl, Alt, Shift; letters are small. */
export const editActions: Readonly<Record<string, () => unknown>> = {
  Escape: () =>
    leave() ||
    closeOutput() ||
    (useSession.getState().showsAdvice && closeAdvice()) ||
    (useGathered.getState().ids.length > 0 ? dropGathered() : clearChoice()),
  Enter: turnLine,
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
  'Alt+Shift+ArrowRight': () => lengthen(1),
  'Alt+Shift+ArrowLeft': () => lengthen(-1),
  'Ctrl+Shift+ArrowRight': () => stretch(1),
  'Ctrl+Shift+ArrowLeft': () => stretch(-1),
  'Shift+ArrowUp': () => nudgeLevel(1),
  'Shift+ArrowDown': () => nudgeLevel(-1),
  a: () => addAtPlayhead(false),
  'Shift+a': () => addAtPlayhead(true),
  k: toLooks,
  w: () => openIntake('new'),
  '/': splitAtPlayhead,
  j: joinChosen,
  f: () => toFade('fadeIn'),
  'Shift+f': () => toFade('fadeOut'),
  v: toLevel,
  c: toColour,
  m: toMotion,
  g: stepSnap,
  n: beginLook,
  Delete: deleteChosen,
  Backspace: deleteChosen,
  'Ctrl+c': copyChosen,
  'Ctrl+v': pasteAtPlayhead,
  'Ctrl+Shift+v': pasteOnChosenPart,
  'Ctrl+z': undo,
  'Ctrl+Shift+z': redo,
}

export const editKeyList: readonly (readonly [string, string])[] = [
  ['← →', 'cue before, after on the part'],
  ['↑ ↓', 'nearest cue on the part above, below'],
  ['Shift ← →', 'choose one cue more'],
  ['Alt ← →', 'move by a step of the grid'],
  ['Alt ↑ ↓', 'move to the cue track or part above, below'],
  ['Alt Shift ← →', 'shorter, longer'],
  ['Ctrl Shift ← →', 'squeeze, stretch all that is chosen'],
  ['Shift ↑ ↓', 'brighter, darker'],
  ['F', 'fade in: ← → its tip, ↑ ↓ its curve, Esc leaves'],
  ['Shift F', 'fade out, likewise'],
  ['V', 'level points: ← → go, ↑ ↓ level, Alt ← → move, Enter adds, Delete removes, Esc leaves'],
  ['C  M', 'to the colours (↓ their swatches), the motions of the cue'],
  ['A', 'new cue of a bar at the playhead'],
  ['Shift A', 'new cue till the next one, or the section’s end'],
  ['K', 'to the looks: type a name, Enter places it at the playhead'],
  ['W', 'write a new song'],
  ['/', 'split at the playhead'],
  ['J', 'join cues that touch'],
  ['G', 'what edges snap to; Ctrl lifts it while you drag'],
  ['Enter', 'open, fold the line'],
  ['N', 'name the chosen cues, or the stage now, as a look'],
  ['Delete', 'delete the chosen cues'],
  ['Ctrl C  V', 'copy, paste at the playhead'],
  ['Ctrl Shift V', 'paste on the part of the chosen cue'],
  ['Ctrl Z', 'undo'],
  ['Ctrl Shift Z', 'redo'],
  ['Tab to the stage', '← → from fixture to fixture, Space gathers it, hold Enter to light it'],
  ['Esc', 'close the panel, drop what is dragged, unchoose'],
]
