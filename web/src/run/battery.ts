// The battery of this computer, where the browser tells (W3C Battery Status API).

import { useEffect, useState } from 'react'

export interface Battery {
  /** 0…1. */
  readonly level: number
  readonly charging: boolean
}

type Told = Battery & EventTarget

export function useBattery(): Battery | null {
  const [battery, setBattery] = useState<Battery | null>(null)
  useEffect(() => {
    const asked = (navigator as Navigator & { getBattery?: () => Promise<Told> }).getBattery?.()
    if (!asked) return
    let told: Told | null = null
    let ended = false
    const read = () => told && setBattery({ level: told.level, charging: told.charging })
    asked.then(
      got => {
        if (ended) return
        told = got
        read()
        for (const event of ['levelchange', 'chargingchange']) got.addEventListener(event, read)
      },
      () => {
        // Not allowed here: nothing is claimed.
      },
    )
    return () => {
      ended = true
      for (const event of ['levelchange', 'chargingchange']) told?.removeEventListener(event, read)
    }
  }, [])
  return battery
}
