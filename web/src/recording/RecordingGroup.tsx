// The recording that goes with a song: attach it, place it against the bars, set how loud it is, take it away.

import { useEffect, useRef } from 'react'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'
import { AUDIO_FILES, attach, useAttaching } from './attach.ts'
import { BeatsGroup } from './BeatsGroup.tsx'
import { heldStart, setStart } from './changes.ts'
import { takeHold, useHeld } from './held.ts'
import './recording.css'
import { useRecording } from './recordings.ts'
import { secondsText, timeScale } from './time-scale.ts'

const NUDGES = [-0.1, -0.01, -0.001, 0.001, 0.01, 0.1] as const
const LEVEL_STEP = 0.01
const heldLevel = (level: number) => Math.round(Math.min(1, Math.max(0, level)) * 100) / 100

export function RecordingGroup({ viewed }: { viewed: ViewedSong }) {
  const input = useRef<HTMLInputElement>(null)
  const attaching = useAttaching(s => s.now)
  const { audio } = viewed.song
  const { problem, buffer } = useRecording()
  const mode = useHeld(s => s.mode)
  useEffect(() => () => takeHold('off'), [])
  const choose = () => input.current?.click()
  return (
    <section className="recording-group" aria-label="Recording">
      <h3>
        Recording
        {audio && (
          <span title={audio.name}>
            {audio.name}, {secondsText(audio.seconds)}
          </span>
        )}
      </h3>
      <input
        ref={input}
        type="file"
        accept={AUDIO_FILES}
        aria-label="File of the recording"
        hidden
        onChange={event => {
          const file = event.currentTarget.files?.[0]
          event.currentTarget.value = ''
          if (file) void attach(file)
        }}
      />
      {attaching && (
        <p className="doing" role="status">
          <progress aria-label={`Attaching ${attaching.name}`} value={attaching.share ?? undefined} />
          {attaching.share === null ? 'Decoding' : 'Sending'}
          <button type="button" className="btn quiet" onClick={attaching.stop}>
            Stop
          </button>
        </p>
      )}
      {!audio && !attaching && (
        <p className="hint">
          <button type="button" className="btn" onClick={choose}>
            Attach a recording
          </button>
          or drop one on the chart: wav, mp3, flac, ogg.
        </p>
      )}
      {audio && problem && (
        <p className="hint" role="alert">
          {problem.message}. {problem.remedy}
        </p>
      )}
      {audio && (
        <>
          <div className="facts">
            <Figure
              {...timeScale}
              label="Bar 1 at"
              value={audio.start}
              onChange={start => setStart(viewed, start)}
            />
            <Figure
              label="Level"
              value={audio.level}
              first={1}
              text={level => `${Math.round(level * 100)} %`}
              number={level => Math.round(level * 100)}
              parse={text => {
                const percent = Number.parseFloat(text)
                return Number.isFinite(percent) ? heldLevel(percent / 100) : null
              }}
              step={(level, n) => heldLevel(level + n * LEVEL_STEP)}
              onChange={level => edit('setAudio', { song: viewed.id, audio: { ...audio, level } })}
            />
          </div>
          <fieldset className="nudges" aria-label="Move the recording, ms">
            {NUDGES.map(by => (
              <button
                key={by}
                type="button"
                className="btn"
                title={by > 0 ? 'The recording sounds later' : 'The recording sounds earlier'}
                aria-label={`Recording ${Math.abs(by * 1000)} ms ${by > 0 ? 'later' : 'earlier'}`}
                onClick={() => void setStart(viewed, heldStart(audio.start - by, audio.seconds))}
              >
                {by > 0 ? '+' : '−'}
                {Math.abs(by * 1000)}
              </button>
            ))}
          </fieldset>
          <div className="acts">
            <button
              type="button"
              className="btn"
              aria-pressed={mode === 'move'}
              onClick={() => takeHold(mode === 'move' ? 'off' : 'move')}
            >
              Drag on chart
            </button>
            <button type="button" className="btn quiet" onClick={choose}>
              Replace
            </button>
            <button
              type="button"
              className="btn quiet"
              onClick={() => void edit('setAudio', { song: viewed.id, audio: null })}
            >
              Remove
            </button>
          </div>
          {buffer && <BeatsGroup viewed={viewed} />}
        </>
      )}
    </section>
  )
}
