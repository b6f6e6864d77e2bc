// Rough-in: a mood for each section, and a first draft of cues for every part, written, tried again, or taken back.

import { type Mood, moodNames, moodPlans } from '@glowchart/shared/show/rough-in/moods.ts'
import { proposedMoods } from '@glowchart/shared/show/rough-in/proposed.ts'
import { type SectionSpan, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { useMemo, useState } from 'react'
import type { ViewedSong } from '../document/viewed.ts'
import { draftStands, dropDraft, useLastStep, writeDraft } from './drafts.ts'
import { IntakePanel } from './IntakePanel.tsx'
import { closeIntake } from './open.ts'

export function RoughIn({ viewed }: { viewed: ViewedSong }) {
  const { id, song } = viewed
  const [chosen, setChosen] = useState<Readonly<Record<string, Mood>>>({})
  const [over, setOver] = useState<ReadonlySet<string>>(new Set())
  const [seed, setSeed] = useState(1)
  useLastStep()
  const stands = draftStands(id)
  const moods = useMemo(() => ({ ...proposedMoods(song), ...chosen }), [song, chosen])
  const own = useMemo(() => timelineOf(song).sections.filter(s => s.source === s.id), [song])
  const write = (next: { moods?: typeof moods; seed?: number }) => {
    writeDraft(id, next.moods ?? moods, next.seed ?? seed, over)
  }
  const choose = (section: string, mood: Mood) => {
    setChosen({ ...chosen, [section]: mood })
    if (stands) write({ moods: { ...moods, [section]: mood } })
  }
  const another = () => {
    setSeed(seed + 1)
    write({ seed: seed + 1 })
  }
  const writable = own.filter(s => over.has(s.id) || Object.keys(song.sections[s.id]!.cues).length === 0)
  return (
    <IntakePanel title="Rough in">
      <p className="quiet">
        A mood for each section gives a first draft of cues for every part, to keep or to change. Repeats
        follow the section they repeat.
      </p>
      {stands && <p className="draft-number">Draft {seed}</p>}
      <ul className="moods" aria-label="Moods">
        {own.map(span => (
          <MoodLine
            key={span.id}
            span={span}
            name={song.sections[span.id]!.name}
            mood={moods[span.id]!}
            hasCues={!stands && Object.keys(song.sections[span.id]!.cues).length > 0}
            over={over.has(span.id)}
            onMood={mood => choose(span.id, mood)}
            onOver={isOver => {
              const next = new Set(over)
              if (isOver) next.add(span.id)
              else next.delete(span.id)
              setOver(next)
            }}
          />
        ))}
      </ul>
      {!stands && writable.length === 0 && (
        <p className="quiet">Every section has cues by now. Tick those whose cues may go.</p>
      )}
      <div className="acts">
        <button
          type="button"
          className="btn go"
          aria-disabled={!stands && writable.length === 0}
          onClick={() => {
            if (stands) closeIntake()
            else if (writable.length > 0) write({})
          }}
        >
          {stands ? 'Keep it' : 'Write a draft'}
        </button>
        {stands && (
          <>
            <button type="button" className="btn" onClick={another}>
              Another draft
            </button>
            <button type="button" className="btn quiet" onClick={() => dropDraft(id)}>
              Take it back
            </button>
          </>
        )}
      </div>
    </IntakePanel>
  )
}

interface MoodLineProps {
  span: SectionSpan
  name: string
  mood: Mood
  hasCues: boolean
  over: boolean
  onMood: (mood: Mood) => void
  onOver: (over: boolean) => void
}

function MoodLine({ span, name, mood, hasCues, over, onMood, onOver }: MoodLineProps) {
  return (
    <li>
      <span className="mark">{span.mark}</span>
      <span className="name">{name}</span>
      <Openness of={mood} />
      <select
        aria-label={`Mood of ${name}`}
        value={mood}
        disabled={hasCues && !over}
        onChange={event => onMood(event.target.value as Mood)}
      >
        {moodNames.map(one => (
          <option key={one}>{one}</option>
        ))}
      </select>
      {hasCues && (
        <label className="tick">
          <input type="checkbox" checked={over} onChange={event => onOver(event.target.checked)} />
          has cues; write over them
        </label>
      )}
    </li>
  )
}

/** How much of the stage a mood opens, as a strand shows its level: by thickness. */
function Openness({ of }: { of: Mood }) {
  const thick = 1.5 + 13 * moodPlans[of].energy
  return (
    <svg className="openness" viewBox="0 0 30 18" aria-hidden="true">
      <path
        d={`M0 9 C8 9 8 ${9 - thick / 2} 15 ${9 - thick / 2} S22 9 30 9 S22 ${9 + thick / 2} 15 ${9 + thick / 2} S8 9 0 9z`}
      />
    </svg>
  )
}
