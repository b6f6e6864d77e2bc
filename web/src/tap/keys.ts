// The keys and the MIDI notes that tap in. They listen before the other keys, and only while something is armed.

import { onPortBytes } from '../midi/page-ports.ts'
import { isOnChart } from '../places.ts'
import { isCommand, isTyping, keyMeant } from '../ui/typing.ts'
import { armTaps, dropTaps, keepTaps, liftAll, partNumber, tapDown, tapUp, useTapping } from './tapping.ts'

/** Starts listening. Returns what ends it. */
export function listenToTaps(): () => void {
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.defaultPrevented || isTyping(event.target) || !isOnChart()) return
    if (isCommand(event)) return
    const key = keyMeant(event)
    if (!useTapping.getState().armed) {
      if (key === 'r' && !event.shiftKey && !event.repeat) {
        event.preventDefault()
        void armTaps()
      }
      return
    }
    const isOnButton = event.target instanceof HTMLElement && event.target.closest('.tap-in button')
    if (key === 'Escape') dropTaps()
    else if (key === 'Enter' && !isOnButton) keepTaps()
    else if (key === 't') tapDown(event.code, event.timeStamp)
    else if (/^[1-9]$/.test(key)) tapDown(event.code, event.timeStamp, partNumber(Number(key)))
    else return
    event.preventDefault()
  }
  const onKeyUp = (event: KeyboardEvent) => tapUp(event.code, event.timeStamp)
  // The release of a key goes to another window then.
  const onBlur = (event: Event) => liftAll(event.timeStamp)
  window.addEventListener('keydown', onKeyDown)
  window.addEventListener('keyup', onKeyUp)
  window.addEventListener('blur', onBlur)
  const endPorts = onPortBytes(hear)
  return () => {
    window.removeEventListener('keydown', onKeyDown)
    window.removeEventListener('keyup', onKeyUp)
    window.removeEventListener('blur', onBlur)
    endPorts()
  }
}

/** Note on and off, and the hold pedal (controller 64, on from 64). Source: MIDI 1.0 Detailed Specification 4.2. */
function hear(bytes: Uint8Array, at: number): void {
  const [status = 0, number = 0, value = 0] = bytes
  const kind = status & 0xf0
  const by = `midi ${kind === 0xb0 ? 'pedal' : number} ${status & 0x0f}`
  if (kind === 0x90 && value > 0) tapDown(by, at)
  else if (kind === 0x80 || kind === 0x90) tapUp(by, at)
  else if (kind === 0xb0 && number === 64 && value >= 64) tapDown(by, at)
  else if (kind === 0xb0 && number === 64) tapUp(by, at)
}
