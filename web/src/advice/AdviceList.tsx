// Advice in full at the side: what, which limit by whom, and what to do. All of it, or the one that was chosen on the chart.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { ADVISORY, FLASH_NOTICE } from '@glowchart/shared/advice/safety.ts'
import { isOnFlashes } from '@glowchart/shared/paper/flash-notice.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useSession } from '../document/session.ts'
import { onEscape } from '../ui/escape.ts'
import { Sign } from '../ui/signs.tsx'
import './advice.css'
import { useAdvice } from './advising.ts'
import { keyOf } from './key.ts'
import { barsName, showAdvice, useShownAdvice } from './marks.ts'
import { closeAdvice, openAdvice } from './open.ts'
import { Applied, Remedies, useHasApplied } from './Remedies.tsx'

export function AdviceList({ show, song }: { show: Show; song: string }) {
  const { stage, songs } = useAdvice()
  const all = useSession(s => s.showsAdvice)
  const key = useShownAdvice(s => s.key)
  const known = inOrder([...(songs[song] ?? []), ...stage])
  const shown = all ? known : known.filter(advice => keyOf(advice) === key)
  const hasApplied = useHasApplied()
  if (shown.length === 0 && !all && !hasApplied) return null
  const others = show.songOrder.filter(id => id !== song && (songs[id]?.length ?? 0) > 0)
  return (
    <section
      id="advice"
      className="advice-list"
      aria-labelledby="advice-title"
      onKeyDown={onEscape(closeAdvice)}
    >
      <header>
        <h2 id="advice-title">Advice</h2>
        <button type="button" className="btn quiet" onClick={closeAdvice}>
          Done
        </button>
      </header>
      <Applied />
      {all && known.length === 0 && <p>None on this song and tonight's stage.</p>}
      <ol>
        {shown.map(advice => (
          <Entry key={keyOf(advice)} advice={advice} />
        ))}
      </ol>
      {all && others.length > 0 && (
        <p>
          In other songs:{' '}
          {others.map(id => (
            <button key={id} type="button" className="btn quiet" onClick={() => openAdvice(id)}>
              {songs[id]!.length} in “{show.songs[id]!.title}”
            </button>
          ))}
        </p>
      )}
      {[...new Set(shown.flatMap(advice => advice.source ?? []))].map(source => (
        <p key={source} className="safety">
          Limits: {source}.
        </p>
      ))}
      {shown.some(isOnFlashes) && <p className="safety">{FLASH_NOTICE}</p>}
      <p className="safety">{ADVISORY}</p>
    </section>
  )
}

function Entry({ advice }: { advice: Advice }) {
  const { bars } = advice.place
  const stop = advice.severity === 'stop'
  return (
    <li className={stop ? 'stop' : ''}>
      {bars?.map(span => (
        <button key={span.from} type="button" className="place" onClick={() => showAdvice(advice, span)}>
          <Sign name="specs" />
          {barsName(span)}
        </button>
      )) ?? (
        <span className="place">
          <Sign name="specs" />
          Tonight
        </span>
      )}
      {stop && <b className="verdict">must not be played so</b>}
      <p>{advice.says}</p>
      <p className="remedy">{advice.remedy}</p>
      <Remedies advice={advice} />
    </li>
  )
}

/** What must not be played comes first, then by bars; what has none comes last. */
const inOrder = (advice: readonly Advice[]): Advice[] =>
  [...advice].sort(
    (a, b) =>
      Number(b.severity === 'stop') - Number(a.severity === 'stop') ||
      (a.place.bars?.[0]?.from ?? Infinity) - (b.place.bars?.[0]?.from ?? Infinity) ||
      0,
  )
