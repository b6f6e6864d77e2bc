// Says how far the light rolls are, once they take longer than two seconds.

import { useEffect, useState } from 'react'
import type { Rolls } from './roll/rolls.ts'

const PATIENCE = 2000
const LOOK_EVERY = 250

export function Progress({ rolls }: { rolls: Rolls }) {
  const [left, setLeft] = useState(0)
  useEffect(() => {
    let waited = 0
    const watching = setInterval(() => {
      const waiting = rolls.waiting()
      waited = waiting > 0 ? waited + LOOK_EVERY : 0
      setLeft(waited > PATIENCE ? waiting : 0)
    }, LOOK_EVERY)
    return () => clearInterval(watching)
  }, [rolls])
  return left > 0 ? (
    <p className="progress" role="status">{`Rendering, ${left} ${left === 1 ? 'line' : 'lines'} to go`}</p>
  ) : null
}
