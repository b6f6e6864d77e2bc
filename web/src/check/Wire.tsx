// What stands between this page and the lights, said over the picture: a song that plays, a press that is late, no output.

import { useFollowed } from '../access/read-only.ts'
import { useSession } from '../document/session.ts'
import { press as transport } from '../live/desk.ts'
import { useChecking } from './checking.ts'
import { useWire } from './wire.ts'

export function Wire() {
  const status = useSession(s => s.status)
  const link = useSession(s => s.link)
  const late = useWire(s => s.late)
  const mode = useChecking(s => s.run.mode)
  const holds = mode === 'checking' || mode === 'asking' || mode === 'glow'
  const followed = useFollowed()
  if (followed !== null) {
    return (
      <div className="wire heed">
        <p role="status">This laptop follows {followed}: the lights are checked there.</p>
      </div>
    )
  }
  if (status?.playing) {
    return (
      <div className="wire stop" role="alert">
        <p>A song is playing; a line check never darkens a show that plays.</p>
        <button type="button" className="btn go" onClick={() => void transport({ do: 'stop' })}>
          Stop the song
        </button>
      </div>
    )
  }
  const says =
    link === 'lost'
      ? 'Not connected: the lights go dark 2 s after this page was last heard. Presses are kept.'
      : late
        ? 'Not arrived yet: the press is kept and told again.'
        : link === 'open' && !status
          ? 'The light engine is down; it is started again by itself.'
          : ''
  return (
    <div className={`wire${says ? ' heed' : ''}`}>
      {says && <p role="status">{says}</p>}
      <p className="state">
        {wireText(status?.check ?? 'off', holds)}
        {status && status.outputs.length === 0 && ' Output off: nothing leaves this machine.'}
        {status?.outputs.find(output => output.says !== '')?.says}
      </p>
    </div>
  )
}

function wireText(check: 'off' | 'on' | 'dark', holds: boolean): string {
  if (check === 'on') return holds ? 'On the wire.' : 'Another page holds a line check.'
  if (check === 'dark') return 'Dark, until the transport is pressed.'
  return holds ? 'Not on the wire yet.' : ''
}
