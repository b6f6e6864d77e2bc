// The vernier: the clock's beats above, ours below. In line means in step; alignment tells it, not colour.

import type { ClockStatus } from '@glowchart/shared/messages.ts'

/** How far our scale stands off the clock's, px. */
const offsets: Record<ClockStatus['lock'], number> = {
  internal: 0,
  waiting: 3.7,
  locking: 2.2,
  locked: 0,
  lost: 3.7,
  stopped: 0,
}

export function Vernier({ lock }: { lock: ClockStatus['lock'] }) {
  const marks = Array.from({ length: 9 }, (_, i) => ({ x: 3 + i * 7.5, tall: i % 4 === 0 }))
  const hears = lock !== 'waiting' && lock !== 'lost'
  return (
    <svg className="vernier" width="66" height="18" viewBox="0 0 66 18" aria-hidden="true">
      <path
        d={marks.map(m => `M${m.x} ${m.tall ? 1 : 4}V8.3`).join('')}
        stroke="currentColor"
        strokeWidth="1.5"
        strokeDasharray={hears ? undefined : '1 2'}
        opacity={hears ? 1 : 0.6}
      />
      <path
        className="ours"
        d={marks.map(m => `M${m.x} 9.7V${m.tall ? 17 : 14}`).join('')}
        stroke="currentColor"
        strokeWidth="1.5"
        style={{ transform: `translateX(${offsets[lock]}px)` }}
      />
    </svg>
  )
}
