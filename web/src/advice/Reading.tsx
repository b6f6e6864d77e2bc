// How many songs are still to be read for power and flashing, and a way to stop.

import { readOn, useAdvice } from './advising.ts'

export function Reading() {
  const left = useAdvice(s => s.waiting.length)
  const paused = useAdvice(s => s.paused)
  if (left === 0) return null
  return (
    <p className="advice-reading">
      <span role="status">
        {paused ? 'Reading is stopped' : 'Reading the songs for flashes and power'}: {left} left.
      </span>
      <button type="button" className="btn" onClick={() => readOn(paused)}>
        {paused ? 'Go on' : 'Stop'}
      </button>
    </p>
  )
}
