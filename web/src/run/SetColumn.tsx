// Tonight's set on the run page: what is done, what stands, what comes; pressing one makes it ready.

import { setPlace, songSeconds, stepsOf } from '@glowchart/shared/set/steps.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { stepName } from '@glowchart/shared/trigger/deed.ts'
import { useEffect, useMemo, useRef } from 'react'
import type { ViewedSong } from '../document/viewed.ts'
import { press } from '../live/desk.ts'
import { timeName } from '../songs/length.ts'
import { Sign } from '../ui/signs.tsx'
import { HoldButton } from './HoldButton.tsx'
import { useLastStatus } from './last-status.ts'

export function SetColumn({ show, standing }: { show: Show; standing: ViewedSong | null }) {
  const { status } = useLastStatus()
  const steps = useMemo(() => stepsOf(show), [show])
  const lengths = useMemo(
    () => steps.map(step => (step.kind === 'song' ? songSeconds(show, step.song) : 0)),
    [show, steps],
  )
  const here = status ? setPlace(show, steps, status) : -1
  // In whole percents, so that the time left does not tremble with a clock that is followed.
  const speed = Math.round(100 * (status?.speed ?? 1)) / 100
  const left = standing ? secondsLeft(standing, status?.position ?? 0) / speed : 0
  const ahead = lengths.slice(here + 1).reduce((sum, s) => sum + s, 0)
  const list = useRef<HTMLOListElement>(null)
  useEffect(() => {
    const item = list.current?.children[Math.max(0, here - 1)]
    if (item instanceof HTMLElement) list.current!.scrollTop = item.offsetTop
  }, [here])
  const nextSong = steps.findIndex((step, i) => i > here && step.kind === 'song')
  return (
    <nav className="set" aria-label="Set list">
      <ol ref={list}>
        {steps.map((step, i) => {
          const state = i === here ? 'now' : i < here ? 'done' : i === nextSong ? 'next' : ''
          return (
            <li
              // biome-ignore lint/suspicious/noArrayIndexKey: a song may come twice in a set.
              key={i}
              className={`${step.kind === 'look' ? 'between' : ''} ${state}`}
              aria-current={i === here ? 'true' : undefined}
            >
              <HoldButton
                fire={() => {
                  if (step.kind === 'song') void press({ do: 'song', song: step.song, at: 0, place: i })
                  else void press({ do: 'look', look: step.look, place: i })
                  return undefined
                }}
              >
                <span className="number">
                  {state === 'done' ? <Sign name="tick" /> : step.kind === 'song' ? step.number : ''}
                </span>
                <b>{stepName(show, step)}</b>
                {state === 'now' && step.kind === 'song' && !standing && (
                  <small>left for the house look</small>
                )}
                {state === 'now' && step.kind === 'song' && standing && (
                  <small>
                    {timeName(lengths[i]! - left)} gone, {timeName(left)} left
                    {keyWords(show, step.song)}
                  </small>
                )}
                {state === 'now' && step.kind === 'look' && <small>the look between songs</small>}
                {state === 'next' && step.kind === 'song' && (
                  <small>
                    Next. {Math.round(show.songs[step.song]!.bpm)}
                    {keyWords(show, step.song)}
                    {step.note && `. ${step.note}`}
                  </small>
                )}
              </HoldButton>
            </li>
          )
        })}
      </ol>
      {steps.length === 0 && <p className="total">No song in tonight’s set: Set list has them.</p>}
      <p className="total">{timeName(left + ahead)} of music left</p>
    </nav>
  )
}

/** It is not broken over two lines. */
const keyWords = (show: Show, song: string): string =>
  show.songs[song]!.key ? `, ${show.songs[song]!.key.replaceAll(' ', '\u00a0')}` : ''

const secondsLeft = ({ timeline }: ViewedSong, at: number): number =>
  Math.max(0, secondsAt(timeline.tempo, timeline.length) - secondsAt(timeline.tempo, ticks(at)))
