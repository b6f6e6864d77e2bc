// Runs the test pattern of one universe: told to the engine ten times a second, ended by itself and when it is closed.

import type { Problem } from '@glowchart/shared/errors.ts'
import { TEST_LASTS, type UniverseTest } from '@glowchart/shared/render/universe-test.ts'
import { useEffect, useState } from 'react'
import { holdCheck } from '../live/desk.ts'

/** Steps of a fade of a second: small enough to look smooth, ms. */
const STEP = 100

interface Running {
  readonly universe: number
  readonly test: UniverseTest
}

export function useUniverseTesting() {
  const [running, setRunning] = useState<Running | null>(null)
  const [left, setLeft] = useState(0)
  const [problem, setProblem] = useState<Problem | null>(null)

  useEffect(() => {
    if (!running) return
    const began = performance.now()
    let over = false
    const step = async () => {
      const seconds = (performance.now() - began) / 1000
      if (seconds >= TEST_LASTS) return setRunning(null)
      setLeft(Math.ceil(TEST_LASTS - seconds))
      const answer = await holdCheck(running.test.at(seconds))
      if (answer.ok || over) return
      setProblem(answer.problem)
      setRunning(null)
    }
    setProblem(null)
    void step()
    const timer = setInterval(step, STEP)
    return () => {
      over = true
      clearInterval(timer)
      void holdCheck(null)
    }
  }, [running])

  return {
    universe: running?.universe ?? null,
    /** Seconds to its end. */
    left,
    problem,
    start: (universe: number, test: UniverseTest) => setRunning({ universe, test }),
    stop: () => setRunning(null),
  }
}
