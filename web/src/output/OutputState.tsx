// Whether light leaves this machine, said in the transport; it opens the panel where the way out is chosen.

import { useSession } from '../document/session.ts'
import { protocolName } from './routes.ts'

export function OutputState() {
  const status = useSession(s => s.status)
  const chooses = useSession(s => s.choosesOutput)
  const outputs = status?.outputs ?? []
  const failing = outputs.filter(o => o.says !== '').length
  const first = outputs[0]
  const says = !status
    ? 'Unknown'
    : !first
      ? 'Off'
      : `${protocolName(first.route.to.protocol)} ${first.route.to.host}`
  const detail = !first
    ? 'Output'
    : failing > 0
      ? `${failing} of ${outputs.length} failing`
      : `Sending, ${status?.frames.rate} frames/s`
  return (
    <button
      type="button"
      className={`read output${failing > 0 ? ' failing' : ''}`}
      aria-expanded={chooses}
      aria-controls="output"
      onClick={() => useSession.setState({ choosesOutput: !chooses })}
    >
      <span className="says">{detail}</span>
      <b className="where">{first ? says : status ? 'Output off' : says}</b>
    </button>
  )
}
