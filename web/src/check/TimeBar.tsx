// The head of the line check: how far it is, and how much of the changeover is left.

import { clockText, leftOf } from '@glowchart/shared/check/changeover.ts'
import type { Run, Stop } from '@glowchart/shared/check/run.ts'
import { useEffect, useState } from 'react'
import { startOrPause, useChangeover } from './countdown.ts'

interface Props {
  run: Run
  stops: readonly Stop[]
  listed: boolean
  onList: () => void
}

export function TimeBar({ run, stops, listed, onList }: Props) {
  const verdicts = stops.flatMap(({ key }) => run.verdicts[key] ?? [])
  const failed = verdicts.filter(({ passed }) => !passed).length
  const toFix = failed === 0 ? '' : `, ${failed === 1 ? 'one' : failed} to fix`
  return (
    <header className="time">
      <h1>Line check</h1>
      <span className="how">
        {verdicts.length} of {stops.length}
        {toFix}
      </span>
      <Changeover listed={listed} onList={onList} />
    </header>
  )
}

function Changeover({ listed, onList }: Pick<Props, 'listed' | 'onList'>) {
  const countdown = useChangeover(s => s.countdown)
  const [now, setNow] = useState(() => performance.now())
  const runs = countdown.started !== null
  useEffect(() => {
    if (!runs) return
    const tick = () => setNow(performance.now())
    tick()
    const timer = setInterval(tick, 250)
    return () => clearInterval(timer)
  }, [runs])
  const left = leftOf(countdown, Math.max(now, countdown.started ?? 0))
  const share = Math.max(0, Math.min(1, left / countdown.of))
  return (
    <>
      <div className="left">
        <span className="ul">Changeover</span>
        <b role="timer">{clockText(left)}</b>
        <span>{left < 0 ? 'over' : 'left'}</span>
      </div>
      <div className="changeover">
        <button type="button" className="btn outline" onClick={startOrPause}>
          {runs ? 'Pause' : countdown.ran > 0 ? 'Go on' : 'Start'}
          <span className="sr"> the changeover</span>
        </button>
        <button type="button" className="btn outline" aria-pressed={listed} onClick={onList}>
          Steps
        </button>
      </div>
      <div
        className="fuse"
        role="progressbar"
        aria-label="Changeover time left"
        aria-valuenow={Math.round(share * 100)}
      >
        <i style={{ width: `${share * 100}%` }} />
      </div>
    </>
  )
}
