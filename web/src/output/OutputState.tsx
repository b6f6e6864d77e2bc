// Whether light leaves this machine and arrives, said in the transport; it opens the panel where the way out is chosen.

import { useSession } from '../document/session.ts'
import { useAsking, useEngineNow } from './asking.ts'
import { useLiveRoutes } from './choosing.ts'
import { silenceText } from './receivers.ts'
import { protocolName } from './routes.ts'

export function OutputState() {
  const status = useSession(s => s.status)
  const network = useSession(s => s.network)
  const chooses = useSession(s => s.choosesOutput)
  const live = useLiveRoutes()
  const now = useEngineNow()
  useAsking(
    false,
    live.map(route => route.to),
  )
  const outputs = status?.outputs ?? []
  const failing = outputs.filter(o => o.says !== '').length
  const silence = silenceText(network, live, now)
  const first = live[0]
  const detail = !first
    ? 'Output'
    : failing > 0
      ? `${failing} of ${outputs.length} failing`
      : (silence ?? `Sending, ${status?.frames.rate} frames/s`)
  const where = !status
    ? 'Unknown'
    : !first
      ? 'Output off'
      : `${protocolName(first.to.protocol)} ${first.to.host}`
  return (
    <button
      type="button"
      className={`read output${failing > 0 || silence ? ' failing' : ''}`}
      aria-expanded={chooses}
      aria-controls="output"
      onClick={() => useSession.setState({ choosesOutput: !chooses })}
    >
      <span className="says">{detail}</span>
      <b className="where">{where}</b>
    </button>
  )
}
