// The keys of the line check. Space passes, so that a keyboard-type pedal does, unless a button was reached by keyboard.

import type { Raise } from '@glowchart/shared/check/raise.ts'
import { usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import { isCommand, isTyping, keyMeant } from '../ui/typing.ts'
import { press, useChecking } from './checking.ts'

const raises: Record<string, Raise> = { r: 'red', g: 'green', b: 'blue', w: 'white', a: 'all' }

/** Goes on, as far as the state has an “on”: passes, begins, or leaves a failed light. */
export function onward(): void {
  const { mode } = useChecking.getState().run
  if (mode === 'checking') press({ do: 'pass' })
  else if (mode === 'halted') press({ do: 'next' })
  else if (mode === 'ready' || mode === 'glow') press({ do: 'start' })
}

function leave(): void {
  const { mode } = useChecking.getState().run
  press(mode === 'asking' ? { do: 'again' } : { do: 'end' })
}

/** True when the key meant something here. */
function act(key: string): boolean {
  const raise = raises[key]
  if (raise) press({ do: 'raise', raise })
  else if (key === 's') press({ do: 'auto', on: !useChecking.getState().run.auto })
  else if (key === 'x') press({ do: 'fail' })
  else if (key === 'u') press({ do: 'undo' })
  else if (key === 'p') press({ do: 'glow' })
  else if (key === 'ArrowLeft' || key === 'PageUp') press({ do: 'step', by: -1 })
  else if (key === 'ArrowRight') press({ do: 'step', by: 1 })
  else if (key === ' ' || key === 'PageDown') onward()
  else if (key === 'Escape') leave()
  else return false
  return true
}

/** Starts listening. Returns what ends it. */
export function listenToCheckKeys(): () => void {
  let byKeyboard = false
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Tab') byKeyboard = true
    if (event.defaultPrevented || event.repeat || isTyping(event.target)) return
    if (isCommand(event) || useSession.getState().showsKeys) return
    const isCharacter = event.key.length === 1 && event.key !== ' '
    if (isCharacter && !usePreferences.getState().characterKeys) return
    if (event.key === ' ' && byKeyboard && isOnControl(event.target)) return
    if (act(keyMeant(event))) event.preventDefault()
  }
  const onKeyUp = (event: KeyboardEvent) => {
    // The click of a button that was last pressed by a finger would press it once more.
    if (event.key === ' ' && !byKeyboard && isOnControl(event.target)) event.preventDefault()
  }
  const onPointerDown = () => {
    byKeyboard = false
  }
  window.addEventListener('keydown', onKeyDown)
  window.addEventListener('keyup', onKeyUp)
  window.addEventListener('pointerdown', onPointerDown, true)
  return () => {
    window.removeEventListener('keydown', onKeyDown)
    window.removeEventListener('keyup', onKeyUp)
    window.removeEventListener('pointerdown', onPointerDown, true)
  }
}

const isOnControl = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.closest('button, a, summary, label, input') !== null
