// Lets this page sound: a phone that only looks on must not, and browsers start sound only by a hand on the page.

import { useEffect, useState } from 'react'
import { audioContext, onAudioContext } from './context.ts'
import { wakeSound } from './sound.ts'

export function SoundHere() {
  const [isOn, setOn] = useState(audioContext()?.state === 'running')
  useEffect(() => {
    const ended = new AbortController()
    const forget = onAudioContext(context => {
      const tell = () => setOn(context.state === 'running')
      context.addEventListener('statechange', tell, { signal: ended.signal })
      tell()
    })
    return () => {
      forget()
      ended.abort()
    }
  }, [])
  return (
    <button
      type="button"
      className="btn outline"
      aria-pressed={isOn}
      title="Score, click and recording sound from this page while a song runs, as chosen under Sound on the chart"
      onClick={() => void (isOn ? audioContext()?.suspend() : wakeSound())}
    >
      {isOn ? 'This page sounds' : 'Let this page sound'}
    </button>
  )
}
