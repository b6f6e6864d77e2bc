// Keeps the display awake while the run page is open (W3C Screen Wake Lock); the browser lets go whenever it is hidden.

import { useEffect, useState } from 'react'

/** Whether it is kept awake now. */
export function useAwake(): boolean {
  const [kept, setKept] = useState(false)
  useEffect(() => {
    let lock: WakeLockSentinel | null = null
    let ended = false
    const ask = async () => {
      if (document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return
      try {
        const got = await navigator.wakeLock.request('screen')
        if (ended) return void got.release()
        lock = got
        setKept(true)
        got.addEventListener('release', () => setKept(false))
      } catch {
        // Low battery, or not a secure page: the health row says so.
        setKept(false)
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
  return kept
}
