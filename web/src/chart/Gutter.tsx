// What stands before a line: rehearsal mark, section, bars, tempo and meter; the button that opens and folds it.

import type { Section } from '@glowchart/shared/show/song.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { Sign } from '../ui/signs.tsx'
import type { PlacedLine } from './page.ts'
import { bpmName, meterSignsOf, tempoSignsOf } from './signs-in-time.ts'

interface Props {
  at: PlacedLine
  section: Section
  timeline: Timeline
  onToggle: () => void
}

export function Gutter({ at, section, timeline, onToggle }: Props) {
  const { line, open } = at
  const from = line.firstBar + 1
  const to = line.firstBar + line.bars
  const bars = from === to ? `bar ${from}` : `bars ${from}–${to}`
  const tempo = tempoSignsOf(timeline, line).find(s => s.at === 0)
  const meter = meterSignsOf(timeline, line).find(s => s.at === 0)?.meter
  return (
    <>
      <button
        type="button"
        className="gutter"
        aria-expanded={open}
        aria-label={`${section.name}, ${bars}`}
        title={section.note ?? ''}
        onClick={onToggle}
      >
        <span className={line.first ? 'mark' : 'mark blank'}>{line.first ? line.section.mark : ''}</span>
        <span className="names">
          {line.first && <b>{section.name}</b>}
          <small>{bars}</small>
          {tempo && (
            <small className="tempo">
              {'bpm' in tempo.says ? (
                <>
                  <Sign name="note" />= {bpmName(tempo.says.bpm)}
                </>
              ) : (
                <i>{tempo.says.word}</i>
              )}
            </small>
          )}
        </span>
      </button>
      {meter && (
        <span className="meter" role="img" aria-label={`${meter.beats}/${meter.unit}`}>
          <span>{meter.beats}</span>
          <span>{meter.unit}</span>
        </span>
      )}
    </>
  )
}
