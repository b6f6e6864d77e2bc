// Where the song is: its section, what is left to the next one, the beats, and what comes.

import { type Countdown, countdownAt } from '@glowchart/shared/set/countdown.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { useEffect, useState } from 'react'
import { say, useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { everyTold } from '../live/animation.ts'
import { positionAt } from '../live/playhead.ts'
import { useAlarm } from '../transport/alarm.ts'
import { isEstimated } from '../transport/clock-words.ts'
import { Sign } from '../ui/signs.tsx'
import { act } from './act.ts'
import { HoldButton } from './HoldButton.tsx'

/** `countdown`: null from the song's end on. Its sections are those of `standing`: another version may not have them. */
interface Counted {
  readonly standing: ViewedSong
  readonly countdown: Countdown | null
}

/** The countdown at this moment. */
function useCountdown(standing: ViewedSong): Counted {
  const [counted, setCounted] = useState<Counted>({ standing, countdown: null })
  useEffect(() => {
    const { timeline, song } = standing
    let last: string | null | undefined
    let section: string | null = null
    return everyTold(now => {
      const { status } = useSession.getState()
      if (!status) return
      const next = countdownAt(timeline, ticks(positionAt(now)), status)
      const key = next && `${next.section.id} ${next.bar}.${next.beat} ${next.round} ${next.next?.id}`
      if (key === last) return
      last = key
      setCounted({ standing, countdown: next })
      if (next && section !== null && next.section.id !== section) say(song.sections[next.section.id]!.name)
      section = next?.section.id ?? null
    })
  }, [standing])
  return counted
}

export function Where(props: { standing: ViewedSong }) {
  const { countdown, standing } = useCountdown(props.standing)
  // Nothing is claimed of a song that is no longer heard of.
  const playing = useSession(s => s.status?.playing ?? true)
  const isGuess = useSession(s => s.status !== null && isEstimated(s.status.clock))
  const { song } = standing
  if (!countdown) {
    return (
      <section className="where" aria-label="Where the song is">
        <p className="sec">
          <b>{song.title}</b>
        </p>
        <p className="stands">is over</p>
        <Alarm />
        {isGuess && <Estimated standing={standing} />}
      </section>
    )
  }
  const { section, bar, beat, beats, next } = countdown
  return (
    <section className="where" aria-label="Where the song is">
      <p className="sec">
        <span className="mark">{section.mark}</span>
        <b>{song.sections[section.id]!.name}</b>
        <small>
          bar {bar}.{beat} <span className="of">of {section.bars}</span>
        </small>
      </p>
      <Count countdown={countdown} song={standing} />
      <Alarm>{isGuess ? null : <Beats beat={playing ? beat : 0} beats={beats} />}</Alarm>
      {isGuess && <Estimated standing={standing} />}
      {!isGuess && (
        <p className="to">
          to{' '}
          {next ? (
            <>
              <span className="mark">{next.mark}</span>
              <b>{song.sections[next.id]!.name}</b>
            </>
          ) : (
            <b>the end</b>
          )}
        </p>
      )}
      {!playing && <p className="rests">stands still</p>}
    </section>
  )
}

/** Pulses came without a place: a hand says which section sounds, and the song goes on from there under the pulses. */
function Estimated({ standing: { song, timeline } }: { standing: ViewedSong }) {
  return (
    <div className="estimated" role="alert">
      <p>
        <b>Position estimated.</b> Tap the section as it begins:
      </p>
      <ol>
        {timeline.sections.map(({ id, mark }) => (
          <li key={id}>
            <HoldButton
              // It must be in time, and takes the place of a guess.
              guarded={false}
              label={song.sections[id]!.name}
              fire={() => act({ do: 'section', section: id })}
            >
              <span className="mark">{mark}</span>
              <b>{song.sections[id]!.name}</b>
            </HoldButton>
          </li>
        ))}
      </ol>
    </div>
  )
}

function Count({ countdown, song }: { countdown: Countdown; song: ViewedSong }) {
  const { round, left, next } = countdown
  const to = next ? song.song.sections[next.id]!.name : 'the end'
  if (round !== null) {
    return (
      <p className="count round" role="timer" aria-live="off" aria-label={`round ${round}`}>
        <small>round</small>
        <span>{round}</span>
      </p>
    )
  }
  if (left.bars === 0) {
    return (
      <p className="count" role="timer" aria-live="off" aria-label={`${left.beats} beats to ${to}`}>
        <span className="bt">{left.beats}</span>
      </p>
    )
  }
  const long = String(left.bars).length + String(left.beats).length > 3
  return (
    <p
      className={`count${long ? ' long' : ''}`}
      role="timer"
      aria-live="off"
      aria-label={`${left.bars} bars ${left.beats} beats to ${to}`}
    >
      <span>{left.bars}</span>
      <i>.</i>
      <span className="bt">{left.beats}</span>
    </p>
  )
}

/** More beats than these are shown as a figure alone. */
const MOST_BEATS = 9

function Beats({ beat, beats }: { beat: number; beats: number }) {
  if (beats > MOST_BEATS) return null
  return (
    <div className="beats" aria-hidden="true">
      {Array.from({ length: beats }, (_, i) => i + 1).map(n => (
        <svg
          key={n}
          aria-hidden="true"
          viewBox="0 0 76 46"
          className={n === beat ? 'sounds' : n < beat ? 'gone' : ''}
        >
          <ellipse cx="38" cy="23" rx="31" ry="21" transform="rotate(-18 38 23)" />
        </svg>
      ))}
    </div>
  )
}

/** What is wrong takes the place of the beats, never of the count. */
export function Alarm({ children }: { children?: React.ReactNode }) {
  const alarm = useAlarm()
  if (!alarm) return children
  return (
    <div className={alarm.calm ? 'run-alarm calm' : 'run-alarm'} role={alarm.calm ? 'status' : 'alert'}>
      <Sign name="specs" />
      <p>
        <b>{alarm.what}</b>
        {alarm.lights}
      </p>
    </div>
  )
}
