// Where the time comes from, and whether we are in step with it.

import type { ClockStatus } from '@glowchart/shared/messages.ts'
import { useSession } from '../document/session.ts'
import { press } from '../live/desk.ts'
import { PagePorts } from '../midi/PagePorts.tsx'
import { Sign } from '../ui/signs.tsx'
import { clockNames } from './clock-words.ts'
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
          onChange={e => press({ do: 'clock', source: e.target.value as ClockStatus['source'] })}
        >
          {Object.entries(clockNames).map(([id, name]) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </div>
      {source !== 'internal' && <PagePorts />}
      {source !== 'internal' && clock && clock.lock !== 'lost' && (
        <div className={`read lock ${clock.lock}`}>
          <span>
            {clock.timecode
              ? `${clock.timecode.label} at ${clock.timecode.rate}`
              : clock.lock === 'locked'
                ? 'In step with the clock'
                : 'The clock'}
          </span>
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

/** That it is lost, the alarm says. */
function saying({ source, lock, jitter }: ClockStatus): string {
  switch (lock) {
    case 'lost':
      return ''
    case 'internal':
      return 'Free running'
    case 'waiting':
      return source === 'mtc' ? 'No time code heard yet' : 'No MIDI clock heard yet'
    case 'locking':
      return 'Catching up'
    case 'locked':
      return `Locked, ${jitter.toFixed(1)} ms`
    case 'stopped':
      return source === 'mtc' ? 'Time code stands' : 'Stopped by the clock'
  }
}
