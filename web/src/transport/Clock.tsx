// Where the time comes from, and whether we are in step with it.

import type { ClockStatus } from '@glowchart/shared/messages.ts'
import { useSession } from '../document/session.ts'
import { useViewedSong } from '../document/viewed.ts'
import { press } from '../live/desk.ts'
import { PagePorts } from '../midi/PagePorts.tsx'
import { Sign } from '../ui/signs.tsx'
import { usePlayedSong } from '../version/on-chart.ts'
import { clockNames, isEstimated } from './clock-words.ts'
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
      {clock && isEstimated(clock) && <SectionChoice />}
      {source !== 'internal' && clock && clock.lock !== 'lost' && !isEstimated(clock) && (
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

/** Which section sounds, where the pulses alone cannot tell. */
function SectionChoice() {
  const played = usePlayedSong(useViewedSong())
  if (!played) return null
  const { timeline, song } = played
  return (
    <div className="read">
      <label htmlFor="sounding-section">Position estimated</label>
      <select
        id="sounding-section"
        value=""
        title="Choose the section as it begins: the song goes on from there"
        onChange={e => void press({ do: 'locate', at: Number(e.target.value) })}
      >
        <option value="" disabled>
          Choose the section
        </option>
        {timeline.sections.map(({ id, start }) => (
          <option key={id} value={start}>
            {song.sections[id]!.name}
          </option>
        ))}
      </select>
    </div>
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
