// The meter changes of a section by its bars. A section that repeats another shows that one's.

import type { Section } from '@glowchart/shared/show/song.ts'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'
import { Sign } from '../ui/signs.tsx'
import { chooseSection } from './acts.ts'
import { barScale, meterScale } from './scales.ts'

export function MeterGroup({ viewed, id }: { viewed: ViewedSong; id: string }) {
  const { song, timeline } = viewed
  const source = song.sections[id]!.sameAs?.section
  const span = timeline.sections.find(s => s.id === id)!
  const { meters, bars } = song.sections[id]!
  const atStart = (timeline.meters.findLast(m => m.bar <= span.firstBar) ?? timeline.meters[0]!).meter
  if (source !== undefined) {
    return (
      <section className="cue-group" aria-label="Meter">
        <h3>
          Meter and tempo
          <button type="button" className="word" onClick={() => chooseSection(source)}>
            as {song.sections[source]!.name}
          </button>
        </h3>
      </section>
    )
  }
  const set = (next: Section['meters']) =>
    edit('setSectionMeters', {
      song: viewed.id,
      section: id,
      meters: [...next].sort((a, b) => a.bar - b.bar),
    })
  const free = Array.from({ length: bars }, (_, bar) => bar).find(bar => !meters.some(m => m.bar === bar))
  return (
    <section className="cue-group" aria-label="Meter">
      <h3>
        Meter
        <span>{meters.some(m => m.bar === 0) ? '' : `${meterScale.text(atStart)} holds`}</span>
        {free !== undefined && (
          <button
            type="button"
            className="tool"
            aria-label="Add a meter change"
            onClick={() => set([...meters, { bar: free, meter: atStart }])}
          >
            <Sign name="plus" />
          </button>
        )}
      </h3>
      {meters.map((change, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a change is its place in the list; a key by its bar would drop the focus as it moves.
        <div key={i} className="mark-row">
          <Figure
            {...barScale(bars)}
            label={`Meter change ${i + 1}, place`}
            short="at"
            value={change.bar}
            onChange={bar => set(meters.map(m => (m === change ? { ...m, bar } : m)))}
          />
          <Figure
            {...meterScale}
            label={`Meter change ${i + 1}`}
            short=""
            value={change.meter}
            onChange={meter => set(meters.map(m => (m === change ? { ...m, meter } : m)))}
          />
          <button
            type="button"
            className="tool"
            aria-label={`Remove the meter change in bar ${change.bar + 1}`}
            onClick={() => set(meters.filter(m => m !== change))}
          >
            <Sign name="cross" />
          </button>
        </div>
      ))}
    </section>
  )
}
