// Takes in a Standard MIDI File: chosen or dropped, looked at, and made a song in one step.

import type { Problem } from '@glowchart/shared/errors.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { type FormEvent, useMemo, useState } from 'react'
import { lengthName } from '../songs/length.ts'
import { FileWell } from './FileWell.tsx'
import { IntakePanel } from './IntakePanel.tsx'
import { type MidiChoice, type MidiFile, readMidiFile, songOfMidi, titleOf } from './midi.ts'
import { NoteTracks } from './NoteTracks.tsx'
import { closeIntake, leaveIntake } from './open.ts'
import { SectionMarks } from './SectionMarks.tsx'
import { TempoPicture } from './TempoPicture.tsx'
import { takeSong } from './take.ts'

const NOTHING: MidiChoice = { title: '', parts: {}, score: true }

export function ImportMidi({ show }: { show: Show }) {
  const [file, setFile] = useState<MidiFile | null>(null)
  const [refused, setRefused] = useState<Problem | null>(null)
  const [choice, setChoice] = useState(NOTHING)
  const made = useMemo(() => file && songOfMidi(file, choice), [file, choice])
  const song = made?.value ?? null
  const fault = refused ?? made?.fault ?? null
  const read = async (chosen: File) => {
    const { value, fault } = await readMidiFile(chosen)
    setFile(value)
    setRefused(fault)
    setChoice({ ...NOTHING, title: titleOf(chosen.name) })
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    if (song && takeSong(song) !== null) closeIntake()
  }
  return (
    <IntakePanel title="From a MIDI file">
      <form onSubmit={submit} noValidate>
        <FileWell says="Choose a MIDI file" accept=".mid,.midi,audio/midi" onFile={read} />
        <p className="fault" role="status">
          {fault && `${fault.where}: ${fault.message}. ${fault.remedy}`}
        </p>
        {file && (
          <label className="field">
            Title
            <input
              value={choice.title}
              maxLength={80}
              onChange={event => setChoice({ ...choice, title: event.target.value })}
            />
          </label>
        )}
        {song && (
          <>
            <SectionMarks song={song} />
            <TempoPicture song={song} />
            <p className="quiet">
              {song.sectionOrder.length === 1 ? '1 section' : `${song.sectionOrder.length} sections`},{' '}
              {lengthName(timelineOf(song))}
            </p>
            {song.note && <p className="quiet">{song.note}</p>}
          </>
        )}
        {file && (
          <>
            <NoteTracks
              smf={file.smf}
              show={show}
              parts={choice.parts}
              onParts={parts => setChoice({ ...choice, parts })}
            />
            <label className="tick">
              <input
                type="checkbox"
                checked={choice.score}
                onChange={event => setChoice({ ...choice, score: event.target.checked })}
              />
              Keep its notes as music to listen to
            </label>
          </>
        )}
        <div className="acts">
          <button type="submit" className="btn go" aria-disabled={!song}>
            Take it in
          </button>
          <button type="button" className="btn quiet" onClick={leaveIntake}>
            Not now
          </button>
        </div>
      </form>
    </IntakePanel>
  )
}
