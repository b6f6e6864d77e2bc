// The tempo marks of a section: where, how fast, how long the glide; and the tempo over the section as a small curve.

import type { TempoMark } from '@glowchart/shared/show/song.ts'
import { ticksPerBar, ticksPerUnit } from '@glowchart/shared/time/meter.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { songPosition } from '../transport/moves.ts'
import { Figure } from '../ui/Figure.tsx'
import { Sign } from '../ui/signs.tsx'
import { inOrder } from './acts.ts'
import { bpmScale, glideScale, placeScale } from './scales.ts'
import { TempoCurve } from './TempoCurve.tsx'

export function TempoGroup({ viewed, id }: { viewed: ViewedSong; id: string }) {
  const { song, timeline } = viewed
  const { tempo, sameAs } = song.sections[id]!
  const span = timeline.sections.find(s => s.id === id)!
  const length = span.end - span.start
  if (sameAs) return <TempoCurve timeline={timeline} span={span} />
  const { meter } = timeline.meters.findLast(m => m.bar <= span.firstBar) ?? timeline.meters[0]!
  const set = (marks: readonly TempoMark[]) =>
    edit('setTempoMarks', { song: viewed.id, section: id, tempo: inOrder(marks) })
  const change = (mark: TempoMark, to: Partial<TempoMark>) =>
    set(tempo.map(other => (other === mark ? { ...other, ...to } : other)))
  const add = () => {
    const beat = ticksPerUnit(meter)
    const here = Math.floor((songPosition() - span.start) / beat) * beat
    const at = ticks(here >= 0 && here < length && !tempo.some(mark => mark.at === here) ? here : freePlace())
    return set([...tempo, { at, bpm: Math.round(bpmAt(timeline.tempo, ticks(span.start + at))) }])
  }
  // The next bar that no mark is on.
  const freePlace = (): number => {
    let at = 0
    while (tempo.some(mark => mark.at === at)) at += ticksPerBar(meter)
    return Math.min(at, length - 1)
  }
  return (
    <section className="cue-group" aria-label="Tempo">
      <h3>
        Tempo
        <button type="button" className="tool" aria-label="Add a tempo mark" onClick={add}>
          <Sign name="plus" />
        </button>
      </h3>
      <TempoCurve timeline={timeline} span={span} />
      {tempo.map((mark, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a mark is its place in the list; a key by tick would drop the focus as it moves.
        <div key={i} className="mark-row three">
          <Figure
            {...placeScale(timeline.meters, span.firstBar, length - 1)}
            label={`Tempo mark ${i + 1}, place`}
            short="at"
            value={mark.at}
            onChange={at => change(mark, { at })}
          />
          <Figure
            {...bpmScale}
            label={`Tempo mark ${i + 1}, quarter notes a minute`}
            short="♩"
            value={mark.bpm}
            onChange={bpm => change(mark, { bpm })}
          />
          <Figure
            {...glideScale(ticksPerBar(meter), ticksPerUnit(meter))}
            label={`Tempo mark ${i + 1}, glide`}
            short=""
            value={mark.glide ?? ticks(0)}
            onChange={glide => {
              const { glide: _old, ...step } = mark
              const next = glide > 0 ? { ...step, glide } : step
              return set(tempo.map(other => (other === mark ? next : other)))
            }}
          />
          <button
            type="button"
            className="tool"
            aria-label={`Remove tempo mark ${i + 1}`}
            onClick={() => set(tempo.filter(other => other !== mark))}
          >
            <Sign name="cross" />
          </button>
        </div>
      ))}
    </section>
  )
}
