// Asks for Art-Net nodes over and over while something on the page needs to know of them, and tells the time for it.

import { useEffect, useState } from 'react'
import { discover } from '../live/desk.ts'
import { engineTime } from '../live/engine-clock.ts'
import type { Host } from './routes.ts'

/** The engine polls every 2.75 s (Art-Net 4: 2.5 to 3 s), for three times after each wish. */
const WISH_EVERY = 2750

/** @param hosts asked by their own address, as a broadcast does not reach every node; those of sACN are left out */
export function useAsking(everywhere: boolean, hosts: readonly Host[]): void {
  const single = hosts.filter(host => host.protocol === 'artnet').slice(0, 64)
  const text = JSON.stringify(single.map(({ host, port }) => ({ address: host, port })))
  useEffect(() => {
    if (!everywhere && text === '[]') return
    const ask = () => discover({ everywhere, hosts: JSON.parse(text) })
    ask()
    const timer = setInterval(ask, WISH_EVERY)
    return () => clearInterval(timer)
  }, [everywhere, text])
}

/** The engine's time, ms, brought up to date each second. */
export function useEngineNow(): number {
  const [, setTick] = useState(0)
  useEffect(() => {
    const timer = setInterval(() => setTick(tick => tick + 1), 1000)
    return () => clearInterval(timer)
  }, [])
  return engineTime(performance.now()) ?? 0
}
