// Keeps the display awake while the run page is open (W3C Screen Wake Lock); the browser lets go whenever it is hidden.

import { useEffect, useState } from 'react'

/** `cannot`: this browser has no way to (or the page came over plain HTTP); `refused`: it said no, as on a low battery. */
export type Awake = 'asked' | 'kept' | 'refused' | 'cannot'

export function useAwake(): Awake {
  const [awake, setAwake] = useState<Awake>('wakeLock' in navigator ? 'asked' : 'cannot')
  useEffect(() => {
    if (!('wakeLock' in navigator)) return
    let lock: WakeLockSentinel | null = null
    let ended = false
    const ask = async () => {
      if (document.visibilityState !== 'visible') return
      try {
        const got = await navigator.wakeLock.request('screen')
        if (ended) return void got.release()
        lock = got
        setAwake('kept')
        // It lets go when the page is hidden, and is asked again when it is back.
        got.addEventListener('release', () => document.visibilityState === 'visible' && setAwake('refused'))
      } catch {
        setAwake('refused')
      }
    }
    void ask()
    document.addEventListener('visibilitychange', ask)
    return () => {
      ended = true
      document.removeEventListener('visibilitychange', ask)
      void lock?.release()
    }
  }, [])
  return awake
}
