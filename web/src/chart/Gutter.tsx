// What stands before a line: rehearsal mark and name, which choose the section; bars, tempo and meter; what folds it.

import type { Section } from '@glowchart/shared/show/song.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import type { CSSProperties } from 'react'
import { SectionName } from '../section/SectionName.tsx'
import { Sign } from '../ui/signs.tsx'
import type { PlacedLine } from './page.ts'
import { bpmName, meterSignsOf, tempoSignsOf } from './signs-in-time.ts'

interface Props {
  at: PlacedLine
  /** Id of the song. */
  song: string
  section: Section
  /** Name of the section it repeats. */
  repeats: string | null
  timeline: Timeline
  onToggle: () => void
}

export function Gutter({ at, song, section, repeats, timeline, onToggle }: Props) {
  const { line, open } = at
  const from = line.firstBar + 1
  const to = line.firstBar + line.bars
  const word = from === to ? 'bar' : 'bars'
  const numbers = from === to ? `${from}` : `${from}–${to}`
  const tempo = tempoSignsOf(timeline, line).find(s => s.at === 0)
  const meter = meterSignsOf(timeline, line).find(s => s.at === 0)?.meter
  return (
    <div className="opening" style={{ '--strip': `${at.note}px` } as CSSProperties}>
      {line.first && (
        <SectionName {...{ song, section, repeats }} id={line.section.id} mark={line.section.mark} />
      )}
      <button
        type="button"
        className="gutter"
        aria-expanded={open}
        aria-label={`${section.name}, ${word} ${numbers}`}
        title={open ? 'Fold this line' : 'Open this line'}
        onClick={onToggle}
      >
        <small>
          {line.first && section.sameAs && <Sign name="simile" />}
          <span className="unit">{word} </span>
          {numbers}
        </small>
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
      </button>
      {meter && (
        <span className="meter" role="img" aria-label={`${meter.beats}/${meter.unit}`}>
          <span>{meter.beats}</span>
          <span>{meter.unit}</span>
        </span>
      )}
    </div>
  )
}
