// The keys of the run page: the hands on the keyboard, guarded as the buttons are, and a pedal that types keys.

import { usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import { isCommand, isTyping, keyMeant, pressable } from '../ui/typing.ts'

interface Held {
  down(): void
  up(): void
}

const hands = new Map<string, Held>()

/** Lends a key ("n", " ", "PageDown") to what it presses. Returns what takes it back. */
export function onRunKey(key: string, held: Held): () => void {
  hands.set(key, held)
  return () => {
    if (hands.get(key) === held) hands.delete(key)
  }
}

/** Starts listening. Returns what ends it. */
export function listenToRunKeys(): () => void {
  /** By what was pressed, and not by what it typed: Shift, held meanwhile, makes another character of it. */
  const down = new Map<string, Held>()
  let byKeyboard = false
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Tab') byKeyboard = true
    if (event.defaultPrevented || isTyping(event.target) || useSession.getState().showsKeys) return
    if (isCommand(event)) return
    const key = keyMeant(event)
    // A button that was reached by keyboard keeps its Space.
    if (key === ' ' && byKeyboard && event.target instanceof Element && event.target.closest(pressable))
      return
    // A slider that is in focus keeps its arrows.
    if (event.target instanceof HTMLInputElement && key.startsWith('Arrow')) return
    // A key that was learned comes first, by what it types.
    const held = hands.get(event.key.length === 1 ? event.key.toLowerCase() : event.key) ?? hands.get(key)
    if (!held) return
    if (key.length === 1 && key !== ' ' && !usePreferences.getState().characterKeys) return
    event.preventDefault()
    const pressed = event.code || key
    if (event.repeat || down.has(pressed)) return
    down.set(pressed, held)
    held.down()
  }
  const onKeyUp = (event: KeyboardEvent) => {
    const pressed = event.code || keyMeant(event)
    down.get(pressed)?.up()
    down.delete(pressed)
  }
  const onPointerDown = () => {
    byKeyboard = false
  }
  const onBlur = () => {
    for (const held of down.values()) held.up()
    down.clear()
  }
  window.addEventListener('keydown', onKeyDown)
  window.addEventListener('keyup', onKeyUp)
  window.addEventListener('pointerdown', onPointerDown, true)
  window.addEventListener('blur', onBlur)
  return () => {
    onBlur()
    window.removeEventListener('keydown', onKeyDown)
    window.removeEventListener('keyup', onKeyUp)
    window.removeEventListener('pointerdown', onPointerDown, true)
    window.removeEventListener('blur', onBlur)
  }
}
