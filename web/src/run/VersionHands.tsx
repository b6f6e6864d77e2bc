// The show version among more of what hands can do, behind the guard: take changes in, go back.

import { changeCount } from '@glowchart/shared/version/changes.ts'
import { backFrom } from '@glowchart/shared/version/request.ts'
import { useEffect } from 'react'
import { usePending, useVersion } from '../version/running.ts'
import { leaveStep, lookAt, stopsIn, takeStep, useStep } from '../version/step.ts'
import { pendingWords } from '../version/words.ts'
import { HoldButton } from './HoldButton.tsx'

export function VersionHands() {
  const { running, versions } = useVersion()
  const pending = usePending()
  const { step, checked, problem } = useStep()
  useEffect(() => leaveStep, [])
  if (!running) return null
  const back = backFrom(running, versions)
  const count = changeCount(pending)
  const isLooking = step?.do === 'publish'
  const stops = isLooking && checked ? stopsIn(checked) : []
  return (
    <>
      <h2>Version {running.number}</h2>
      <div className="acts">
        {count > 0 && (
          <HoldButton
            idle={isLooking && (!checked || stops.length > 0)}
            fire={() => {
              void (isLooking
                ? takeStep()
                : lookAt({ do: 'publish', take: 'all', what: 'Take in all changes' }))
              return undefined
            }}
          >
            <b>{isLooking ? 'Take all in now' : 'Look at what is new'}</b>
            <small>
              {isLooking && checked
                ? checked.changes.map(({ title }) => title).join(', ')
                : pendingWords(count)}
            </small>
          </HoldButton>
        )}
        {stops.length > 0 && (
          <>
            <p className="stops" role="alert">
              Must not be played so: {stops[0]!.says}
            </p>
            <HoldButton
              fire={() => {
                useStep.setState({ despite: true })
                void takeStep()
                return undefined
              }}
            >
              <b>Play it all the same</b>
            </HoldButton>
          </>
        )}
        {back && (
          <HoldButton
            fire={() => {
              void lookAt({ do: 'run', version: back }).then(takeStep)
              return undefined
            }}
          >
            <b>Back to version {back.number}</b>
            <small>As it was played before</small>
          </HoldButton>
        )}
        {problem && (
          <p className="refused" role="alert">
            {problem.message}. {problem.remedy}
          </p>
        )}
      </div>
    </>
  )
}
