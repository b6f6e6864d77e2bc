// Bars put in and taken out: at the bars looped on the chart while they lie in the section, or where it is said here.

import { barBeatAt } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { useEffect, useState } from 'react'
import type { ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'
import { useLoopOnChart } from '../version/on-chart.ts'
import { familyOf, insertBars, namesInWords, ownerOfBars, removeBars } from './acts.ts'
import { barScale, wholeScale } from './scales.ts'

export function BarsGroup({ viewed, id }: { viewed: ViewedSong; id: string }) {
  const { song, timeline } = viewed
  const span = timeline.sections.find(s => s.id === id)!
  const { from = null, to = null } = useLoopOnChart(viewed) ?? {}
  const [bar, setBar] = useState(span.bars)
  const [count, setCount] = useState(2)
  const { start, end, firstBar } = span
  useEffect(() => {
    if (from === null || to === null || from < start || to > end) return
    const first = barBeatAt(timeline.meters, ticks(from)).bar
    const last = barBeatAt(timeline.meters, ticks(to - 1)).bar
    setBar(first - firstBar)
    setCount(last - first + 1)
  }, [from, to, start, end, firstBar, timeline])
  const at = Math.min(bar, span.bars)
  const owner = ownerOfBars(viewed, id)
  const others = familyOf(viewed, id).filter(
    other => other !== id && song.sections[other]!.bars === span.bars,
  )
  const removable = at < span.bars && Math.min(count, span.bars - at) < span.bars
  const isCut = song.sections[id]!.sameAs !== undefined && owner === id
  const says = isCut
    ? `It repeats ${song.sections[song.sections[id]!.sameAs!.section]!.name} at a length of its own: change the bars there, or unlink it.`
    : others.length > 0
      ? `${namesInWords(others.map(other => song.sections[other]!))} ${others.length === 1 ? 'follows' : 'follow'}.`
      : ''
  return (
    <section className="cue-group" aria-label="Bars">
      <div className="facts">
        <Figure {...barScale(span.bars, true)} label="Before" value={at} onChange={setBar} />
        <Figure {...wholeScale('bar', 1, 64)} label="Count" value={count} onChange={setCount} />
      </div>
      <div className="acts">
        <button type="button" className="btn" disabled={isCut} onClick={() => insertBars(id, at, count)}>
          Insert {count === 1 ? 'a bar' : `${count} bars`}
        </button>
        <button
          type="button"
          className="btn"
          disabled={isCut || !removable}
          onClick={() => removeBars(id, at, Math.min(count, span.bars - at))}
        >
          {at === span.bars ? 'Remove' : `Remove ${barsIn(at, Math.min(count, span.bars - at))}`}
        </button>
      </div>
      {says && <p className="note">{says}</p>}
    </section>
  )
}

const barsIn = (at: number, count: number): string =>
  count === 1 ? `bar ${at + 1}` : `bars ${at + 1} to ${at + count}`
