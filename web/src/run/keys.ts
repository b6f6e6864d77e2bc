// The keys of the run page: the hands on the keyboard, guarded as the buttons are, and a pedal that types keys.

import { usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import { isTyping } from '../ui/typing.ts'

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
  const down = new Map<string, Held>()
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.defaultPrevented || isTyping(event.target) || useSession.getState().showsKeys) return
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const key = keyOf(event)
    // A slider that is in focus keeps its arrows.
    if (event.target instanceof HTMLInputElement && key.startsWith('Arrow')) return
    const held = hands.get(key)
    if (!held) return
    if (key.length === 1 && key !== ' ' && !usePreferences.getState().characterKeys) return
    event.preventDefault()
    if (event.repeat || down.has(key)) return
    down.set(key, held)
    held.down()
  }
  const onKeyUp = (event: KeyboardEvent) => {
    const key = keyOf(event)
    down.get(key)?.up()
    down.delete(key)
  }
  const onBlur = () => {
    for (const held of down.values()) held.up()
    down.clear()
  }
  window.addEventListener('keydown', onKeyDown)
  window.addEventListener('keyup', onKeyUp)
  window.addEventListener('blur', onBlur)
  return () => {
    onBlur()
    window.removeEventListener('keydown', onKeyDown)
    window.removeEventListener('keyup', onKeyUp)
    window.removeEventListener('blur', onBlur)
  }
}

const keyOf = ({ key }: KeyboardEvent): string => (key.length === 1 ? key.toLowerCase() : key)
