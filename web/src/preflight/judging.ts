// Gathers what the page knows of what will play, and judges it: again by itself whenever something changes, at most once a second.

import type { PageFacts, ServerFacts } from '@glowchart/shared/preflight/facts.ts'
import { type Group, preflight } from '@glowchart/shared/preflight/judge.ts'
import { type Judged, judgedVersion } from '@glowchart/shared/preflight/judged.ts'
import { useEffect, useMemo, useState } from 'react'
import { useAdvice } from '../advice/advising.ts'
import { useDocument } from '../document/document.ts'
import { useSession } from '../document/session.ts'
import { engineTime } from '../live/engine-clock.ts'
import { useAsking } from '../output/asking.ts'
import { useLiveRoutes } from '../output/choosing.ts'
import { useBattery } from '../run/battery.ts'
import { useVersion } from '../version/running.ts'
import { useDecoded } from './decoding.ts'
import { useHeardKeys } from './heard.ts'

const EVERY = 1000

/** Null before the server has sent the show. */
export function useJudged(server: ServerFacts | null): {
  readonly judged: Judged
  readonly groups: readonly Group[]
} | null {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const judged = useWhatPlays()
  const decoded = useDecoded(s => s.files)
  const keys = useHeardKeys(s => s.keys)
  const battery = useBattery()
  const routes = useLiveRoutes()
  useAsking(
    false,
    routes.map(route => route.to),
  )
  const tick = useTick()
  return useMemo(() => {
    if (!rig || !show || !judged?.show.kits[judged.show.tonight]) return null
    // Ten times a second something in the status is new; it is read once a second.
    void tick
    const { status, network } = useSession.getState()
    const page: PageFacts = {
      at: Date.now(),
      battery,
      canStayAwake: 'wakeLock' in navigator,
      isHere: ['localhost', '127.0.0.1', '[::1]'].includes(location.hostname),
      decoded,
      keys,
    }
    const groups = preflight({
      ...judged,
      draft: { rig, show },
      status,
      network,
      engineNow: engineTime(performance.now()) ?? 0,
      server,
      page,
    })
    return { judged, groups }
  }, [rig, show, judged, decoded, keys, battery, server, tick])
}

/** The version that runs with the advice it was published with, or the draft with what has been read of it. */
function useWhatPlays(): Judged | null {
  const running = useVersion(s => s.running)
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const advice = useAdvice()
  return useMemo(() => {
    if (!rig || !show) return null
    if (running) return judgedVersion(running, rig)
    const read = Object.entries(advice.songs).filter(([song]) => !advice.waiting.includes(song))
    return {
      rig,
      show,
      stage: advice.stageRead ? advice.stage : null,
      songs: Object.fromEntries(read),
      running: null,
    }
  }, [running, rig, show, advice])
}

/** Counts up each second, and at once when the engine comes or goes. */
function useTick(): number {
  const [tick, setTick] = useState(0)
  const isThere = useSession(s => s.status !== null)
  const network = useSession(s => s.network)
  // biome-ignore lint/correctness/useExhaustiveDependencies: they are what it also counts.
  useEffect(() => {
    const count = () => setTick(n => n + 1)
    count()
    const timer = setInterval(count, EVERY)
    return () => clearInterval(timer)
  }, [isThere, network])
  return tick
}
