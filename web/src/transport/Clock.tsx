// Where the time comes from, and whether we are in step with it.

import type { ClockStatus } from '@glowchart/shared/messages.ts'
import { useSession } from '../document/session.ts'
import { press } from '../live/desk.ts'
import { PagePorts } from '../midi/PagePorts.tsx'
import { Sign } from '../ui/signs.tsx'
import { Vernier } from './Vernier.tsx'

export function Clock() {
  const clock = useSession(s => s.status?.clock)
  const midi = useSession(s => s.status?.midi)
  const source = clock?.source ?? 'internal'
  return (
    <>
      <div className="read">
        <label htmlFor="clock-source">Clock</label>
        <select
          id="clock-source"
          value={source}
          disabled={!clock}
          title={midi && !midi.available ? midi.says : undefined}
          onChange={e => press({ do: 'clock', source: e.target.value === 'midi' ? 'midi' : 'internal' })}
        >
          <option value="internal">Own clock</option>
          <option value="midi">MIDI clock</option>
        </select>
      </div>
      <PagePorts shown={source === 'midi'} />
      {source === 'midi' && clock && (
        <div className={`read lock ${clock.lock}`}>
          <span>{clock.lock === 'locked' ? 'In step with the clock' : 'The clock'}</span>
          <b>
            <Vernier lock={clock.lock} />
            {clock.lock === 'locked' && <Sign name="tick" />}
            {saying(clock)}
          </b>
        </div>
      )}
    </>
  )
}

function saying({ lock, bpm, jitter }: ClockStatus): string {
  switch (lock) {
    case 'internal':
      return 'Free running'
    case 'waiting':
      return 'No MIDI clock heard yet'
    case 'locking':
      return 'Catching up'
    case 'locked':
      return `Locked, ${jitter.toFixed(1)} ms`
    case 'lost':
      return `Lost; on at ${bpm.toFixed(1)}`
    case 'stopped':
      return 'Stopped by the clock'
  }
}
