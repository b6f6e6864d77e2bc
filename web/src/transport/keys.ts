// The keys: one listener for the whole page. Single letters work only while nothing is being typed.

import { editActions, editKeyList } from '../chart/edit-keys.ts'
import { stepZoom, usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import { isOnChart } from '../places.ts'
import { rigKeyList } from '../rig/keys.ts'
import { runKeyList } from '../run/key-list.ts'
import { sectionAction, sectionKeyList } from '../section/keys.ts'
import { tapKeyList } from '../tap/key-list.ts'
import { isCommand, isTyping, keyMeant, pressable } from '../ui/typing.ts'
import { goToStart, playFromHere, playOrStop, stepBar, stepSection, toggleLoop } from './moves.ts'
import { tap } from './tap.ts'

interface Held {
  down: () => void
  up: () => void
}

let blackout: Held | null = null

/** Lends the blackout key to the button that holds. Returns what takes it back. */
export function onBlackoutKey(held: Held): () => void {
  blackout = held
  return () => {
    if (blackout === held) blackout = null
  }
}

const actions: Record<string, () => unknown> = {
  ' ': playOrStop,
  Home: goToStart,
  ',': () => stepBar(-1),
  '.': () => stepBar(1),
  '[': () => stepSection(-1),
  ']': () => stepSection(1),
  l: toggleLoop,
  p: playFromHere,
  t: tap,
  '-': () => stepZoom(-1),
  '+': () => stepZoom(1),
  '=': () => stepZoom(1),
  '?': () => useSession.setState(s => ({ showsKeys: !s.showsKeys })),
}

/** What works in every place, and not on the chart alone. */
const everywhere = ['?', 'b', 'Ctrl+z', 'Ctrl+Shift+z']

/** What goes on while its key is held; all else happens once a press. */
const goesOn = /Arrow|^(Ctrl\+(Shift\+)?z|[,.[\]+=-])$/

/** The list as it is shown. */
export const keyList: readonly (readonly [string, string])[] = [
  ['Space', 'play, stop'],
  ['Home', 'start of the song'],
  [',  .', 'a bar back, on'],
  ['[  ]', 'a section back, on'],
  ['1 … 9', 'go to a bar: type its number, Enter'],
  ['L', 'loop the chosen cues or the section, lift the loop'],
  ['P', 'play from the chosen cue, or this bar'],
  ['T', 'tap the tempo'],
  ['−  +', 'fewer, more bars a line'],
  ['B', 'hold for blackout, press to restore'],
  ['?', 'this list'],
  ...tapKeyList,
  ...editKeyList,
  ...sectionKeyList,
  ...rigKeyList,
  ...runKeyList,
]

/** Starts listening. Returns what ends it. */
export function listenToKeys(): () => void {
  // Space presses the button that was reached by keyboard; after a click it still plays and stops.
  let byKeyboard = false

  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Tab') byKeyboard = true
    if (event.defaultPrevented || isTyping(event.target)) return
    // The browser's own Escape closes it, unless another has taken the key.
    if (event.key === 'Escape' && document.querySelector(':popover-open')) return
    if (event.key !== '?' && useSession.getState().showsKeys) return
    if (isCharacter(event) && !usePreferences.getState().characterKeys) return
    const target = event.target instanceof HTMLElement ? event.target : null
    if (event.key === ' ' && byKeyboard && target?.closest(pressable)) return
    const key = keyMeant(event)
    const chord = chordOf(event, key)
    const again = event.repeat && !goesOn.test(chord)
    if (!isOnChart() && !everywhere.includes(chord)) return
    // In a form it says that the form is filled in, from its boxes too.
    if (chord === 'Enter' && target?.closest(pressable)) return
    const editing = sectionAction(chord) ?? editActions[chord]
    const isTheirs = key.startsWith('Arrow') ? target?.matches('input') : key === 'c' && hasSelectedText()
    if (editing && !isTheirs) {
      event.preventDefault()
      if (!again) editing()
      return
    }
    if (isCommand(event)) return
    if (key === 'b') {
      if (!event.repeat) blackout?.down()
      return
    }
    if (/^[1-9]$/.test(key)) {
      // What is pressed is typed there.
      document.getElementById('go-to-bar')?.focus()
      return
    }
    const action = actions[key]
    if (!action || (key === 'Home' && target?.matches('input'))) return
    event.preventDefault()
    if (!again) action()
  }
  const onKeyUp = (event: KeyboardEvent) => {
    if (keyMeant(event) === 'b') blackout?.up()
    // The click of a button that was last clicked by pointer would play and press at once.
    const isPressed = event.target instanceof HTMLElement && event.target.matches(pressable)
    if (event.key === ' ' && !byKeyboard && isPressed && !isTyping(event.target)) event.preventDefault()
  }
  const onPointerDown = () => {
    byKeyboard = false
  }
  // What was chosen from a list with the pointer has the keys no longer.
  const onChange = ({ target }: Event) => {
    if (!byKeyboard && target instanceof HTMLSelectElement) target.blur()
  }
  const onBlur = () => blackout?.up()
  window.addEventListener('keydown', onKeyDown)
  window.addEventListener('keyup', onKeyUp)
  window.addEventListener('pointerdown', onPointerDown, true)
  window.addEventListener('change', onChange)
  window.addEventListener('blur', onBlur)
  return () => {
    window.removeEventListener('keydown', onKeyDown)
    window.removeEventListener('keyup', onKeyUp)
    window.removeEventListener('pointerdown', onPointerDown, true)
    window.removeEventListener('change', onChange)
    window.removeEventListener('blur', onBlur)
  }
}

/** A key that types something, Space aside, with nothing held but Shift. */
const isCharacter = (event: KeyboardEvent): boolean =>
  event.key.length === 1 && event.key !== ' ' && !isCommand(event)

/** Text that copying is about. */
const hasSelectedText = (): boolean => window.getSelection()?.isCollapsed === false

/** "Ctrl+Shift+z". Shift counts with letters, and where it does not make another character. */
function chordOf(event: KeyboardEvent, key: string): string {
  const isHeld = isCommand(event)
  const ctrl = isHeld && (event.ctrlKey || event.metaKey) ? 'Ctrl+' : ''
  const shift = event.shiftKey && (event.key.length > 1 || ctrl !== '' || /[a-z]/.test(key)) ? 'Shift+' : ''
  return `${ctrl}${isHeld && event.altKey ? 'Alt+' : ''}${shift}${key}`
}
