// Says how far the light rolls are, once they take longer than two seconds.

import { useEffect, useState } from 'react'
import type { Rolls } from './roll/rolls.ts'

const PATIENCE = 2000

export function Progress({ rolls, version }: { rolls: Rolls; version: number }) {
  const [left, setLeft] = useState(0)
  // biome-ignore lint/correctness/useExhaustiveDependencies: every version of the song is rendered afresh.
  useEffect(() => {
    const begun = performance.now()
    const watching = setInterval(() => {
      const waiting = rolls.waiting()
      setLeft(performance.now() - begun > PATIENCE ? waiting : 0)
      if (waiting === 0) clearInterval(watching)
    }, 250)
    return () => clearInterval(watching)
  }, [rolls, version])
  return left > 0 ? (
    <p className="progress" role="status">{`Rendering, ${left} ${left === 1 ? 'line' : 'lines'} to go`}</p>
  ) : null
}
