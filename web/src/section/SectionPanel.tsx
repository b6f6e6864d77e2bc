// The section column: what the chosen section is called and how long it is, its time, its links, and what is done to it.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { clearChoice } from '../document/choice.ts'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'
import { ActsGroup } from './ActsGroup.tsx'
import { familyOf } from './acts.ts'
import { BarsGroup } from './BarsGroup.tsx'
import { Field } from './Field.tsx'
import { focusMark, PANEL } from './focus.ts'
import { LinkGroup } from './LinkGroup.tsx'
import { MeterGroup } from './MeterGroup.tsx'
import './section.css'
import { wholeScale } from './scales.ts'
import { TempoGroup } from './TempoGroup.tsx'

interface Props {
  show: Show
  viewed: ViewedSong
  id: string
}

export function SectionPanel({ show, viewed, id }: Props) {
  const { song, timeline } = viewed
  const section = song.sections[id]!
  const span = timeline.sections.find(s => s.id === id)!
  const ref = { song: viewed.id, section: id }
  const seconds = secondsAt(timeline.tempo, span.end) - secondsAt(timeline.tempo, span.start)
  const source = section.sameAs ? song.sections[section.sameAs.section]! : null
  return (
    <section
      id={PANEL}
      className="section-panel"
      aria-label={`Section: ${section.name}`}
      onKeyDown={event => {
        if (event.key !== 'Escape') return
        event.preventDefault()
        event.stopPropagation()
        focusMark(id)
      }}
    >
      <header>
        <Field
          key={`mark ${id}`}
          className="mark"
          label="Rehearsal mark"
          value={section.mark ?? ''}
          placeholder={span.mark}
          most={4}
          onChange={mark => edit('renameSection', { ...ref, mark: mark || null })}
        />
        <h2>
          <Field
            key={`name ${id}`}
            label="Name"
            value={section.name}
            most={80}
            onChange={name => name && edit('renameSection', { ...ref, name })}
          />
        </h2>
        <button type="button" className="btn quiet" onClick={clearChoice}>
          Songs
        </button>
      </header>
      <p className="where">
        {source && (
          <>
            repeats <b>{source.name}</b>,{' '}
          </>
        )}
        bars {span.firstBar + 1} to {span.firstBar + span.bars}, {Math.round(seconds)} s
      </p>
      <Field
        key={`note ${id}`}
        className="note-field"
        label="Note to self"
        value={section.note ?? ''}
        placeholder="Note to self"
        most={2000}
        lines
        onChange={note => edit('setNote', { ...ref, note: note || null })}
      />
      <div className="facts">
        <Figure
          {...wholeScale('bar', 1, 999)}
          label="Bars"
          value={section.bars}
          onChange={bars => edit('setSectionBars', { ...ref, bars })}
        />
        <button
          type="button"
          className="figure press"
          aria-pressed={section.vamp}
          onClick={() => edit('setVamp', { ...ref, vamp: !section.vamp })}
        >
          <span>Vamp</span>
          <b>{section.vamp ? 'till released' : 'off'}</b>
        </button>
      </div>
      <BarsGroup key={`bars ${id}`} viewed={viewed} id={id} />
      <MeterGroup viewed={viewed} id={id} />
      <TempoGroup viewed={viewed} id={id} />
      <LinkGroup key={`link ${id}`} show={show} viewed={viewed} id={id} family={familyOf(viewed, id)} />
      <ActsGroup viewed={viewed} id={id} />
    </section>
  )
}
