// A new song: its title, tempo, meter, and its sections typed in one line; by choice with a first draft of its light.

import { CodedError } from '@glowchart/shared/errors.ts'
import { proposedMoods } from '@glowchart/shared/show/rough-in/proposed.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Meter, Song } from '@glowchart/shared/show/song.ts'
import { readStructure, songFromStructure } from '@glowchart/shared/show/structure.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { type FormEvent, useMemo, useRef, useState } from 'react'
import { lengthName } from '../songs/length.ts'
import { TempoAndMeter } from '../songs/TempoAndMeter.tsx'
import { writeDraft } from './drafts.ts'
import { IntakePanel } from './IntakePanel.tsx'
import { closeIntake, leaveIntake, openIntake } from './open.ts'
import { SectionMarks } from './SectionMarks.tsx'
import { inside, takeSong } from './take.ts'

const EXAMPLE = 'Intro 8, Verse 16, Chorus 16, Verse, Chorus, Bridge 8, Chorus, Outro 8'

interface Basis {
  readonly title: string
  readonly bpm: number
  readonly meter: Meter
  readonly line: string
  readonly linked: boolean
}

export function NewSong({ show }: { show: Show }) {
  const [basis, setBasis] = useState<Basis>({
    title: '',
    bpm: 120,
    meter: { beats: 4, unit: 4 },
    line: '',
    linked: true,
  })
  const [drafts, setDrafts] = useState(true)
  const [pressed, setPressed] = useState(false)
  const line = useRef<HTMLTextAreaElement>(null)
  const { song, fault } = useMemo(() => songOf(basis), [basis])
  const repeats = song?.sectionOrder.some(id => song.sections[id]!.sameAs) || !basis.linked
  const submit = (event: FormEvent) => {
    event.preventDefault()
    setPressed(true)
    if (!song) {
      line.current?.focus()
      return
    }
    const taken = takeSong(song, `Add "${song.title}"`)
    if (taken === null) return
    if (drafts && show.partOrder.length > 0) {
      writeDraft(taken, proposedMoods(song), 1, new Set())
      openIntake('rough')
    } else closeIntake()
  }
  const shownFault = fault && (pressed || basis.line.trim() !== '') ? fault : null
  return (
    <IntakePanel title="New song">
      <form onSubmit={submit} noValidate>
        <label className="field">
          Title
          <input
            // biome-ignore lint/a11y/noAutofocus: the panel was opened to type here.
            autoFocus
            value={basis.title}
            maxLength={80}
            placeholder="Untitled"
            onChange={event => setBasis({ ...basis, title: event.target.value })}
          />
        </label>
        <TempoAndMeter
          bpm={basis.bpm}
          meter={basis.meter}
          onChange={change => setBasis({ ...basis, ...change })}
        />
        <label className="field">
          Sections and their bars
          <textarea
            ref={line}
            rows={4}
            value={basis.line}
            placeholder={EXAMPLE}
            spellCheck={false}
            aria-invalid={shownFault !== null}
            aria-describedby="structure-fault"
            onChange={event => setBasis({ ...basis, line: event.target.value })}
            onKeyDown={event => {
              if (event.key !== 'Enter' || event.shiftKey) return
              event.preventDefault()
              event.currentTarget.form?.requestSubmit()
            }}
          />
        </label>
        <p id="structure-fault" className="fault" role="status">
          {shownFault && `${shownFault.where}: ${shownFault.message}. ${shownFault.remedy}`}
        </p>
        {song && (
          <>
            <SectionMarks song={song} />
            <p className="quiet">{sizeOf(song)}</p>
          </>
        )}
        {repeats && (
          <label className="tick">
            <input
              type="checkbox"
              checked={basis.linked}
              onChange={event => setBasis({ ...basis, linked: event.target.checked })}
            />
            A name that comes again repeats the first: write one, all follow
          </label>
        )}
        {show.partOrder.length > 0 && (
          <label className="tick">
            <input type="checkbox" checked={drafts} onChange={event => setDrafts(event.target.checked)} />
            Rough in a first draft of its light
          </label>
        )}
        <div className="acts">
          <button type="submit" className="btn go">
            Add the song
          </button>
          <button type="button" className="btn quiet" onClick={leaveIntake}>
            Not now
          </button>
        </div>
      </form>
    </IntakePanel>
  )
}

type Read =
  | { song: Song; fault: null }
  | { song: null; fault: { where: string; message: string; remedy: string } }

function songOf({ title, bpm, meter, line, linked }: Basis): Read {
  try {
    const sections = readStructure(line)
    const song = songFromStructure({
      title: title.trim() || 'Untitled',
      bpm,
      meter,
      sections,
      linked,
      ids: inside,
    })
    return { song, fault: null }
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    return { song: null, fault: error.problem }
  }
}

function sizeOf(song: Song): string {
  const bars = song.sectionOrder.reduce((sum, id) => sum + song.sections[id]!.bars, 0)
  return `${song.sectionOrder.length} sections, ${bars} bars, ${lengthName(timelineOf(song))}`
}
