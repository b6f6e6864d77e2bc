// What advice there is on a song of the set: a sign, how many, and the worst in words; it leads to all of it on the chart.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { counted } from '@glowchart/shared/advice/words.ts'
import { useAdvice } from '../advice/advising.ts'
import { openAdvice } from '../advice/open.ts'
import { Sign } from '../ui/signs.tsx'

export function Warnings({ song, title }: { song: string; title: string }) {
  const advice = useAdvice(s => s.songs[song])
  const isOld = useAdvice(s => s.waiting.includes(song))
  const paused = useAdvice(s => s.paused)
  if (advice === undefined) return <small className="reading">{paused ? 'not read yet' : 'being read'}</small>
  const worst = worstOf(advice)
  if (!worst) return isOld ? <small className="reading">being read again</small> : null
  return (
    <button
      type="button"
      className={`warns ${worst.severity}`}
      title="Shows it on the chart, with what to do"
      onClick={() => openAdvice(song)}
    >
      <Sign name="specs" />
      <b className="num">{advice.length}</b>
      <span>
        <span className="sr">{`${counted(advice.length, 'mark')} of advice on “${title}”: `}</span>
        {worst.severity === 'stop' && 'Must not be played so. '}
        {worst.says}
        {isOld && ' Being read again.'}
      </span>
    </button>
  )
}

const RANK = { note: 0, heed: 1, stop: 2 } as const

const worstOf = (advice: readonly Advice[]): Advice | undefined =>
  advice.reduce<Advice | undefined>(
    (worst, one) => (!worst || RANK[one.severity] > RANK[worst.severity] ? one : worst),
    undefined,
  )
