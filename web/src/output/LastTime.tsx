// Where the show was sent last time, and one press to send there again. A fresh start never does so by itself.

import type { Output, Route } from '@glowchart/shared/show/output.ts'
import type { Receiver } from './receivers.ts'
import { hostKey, numberOf, numberText } from './routes.ts'

interface Props {
  kept: Output
  live: readonly Route[]
  receivers: readonly Receiver[]
  onAgain: () => unknown
}

export function LastTime({ kept, live, receivers, onAgain }: Props) {
  if (kept.routes.length === 0 || JSON.stringify(kept.routes) === JSON.stringify(live)) return null
  return (
    <div className="last-time">
      <p>Last time:</p>
      <ul>
        {kept.routes.map(({ universe, to }) => (
          <li key={`${universe} ${hostKey(to)} ${numberOf(to)}`}>
            Universe {universe} to {receivers.find(r => r.key === hostKey(to))?.name ?? to.host},{' '}
            {numberText(to.protocol, numberOf(to))}
          </li>
        ))}
      </ul>
      <button type="button" className="btn go" onClick={onAgain}>
        Send there again
      </button>
    </div>
  )
}
