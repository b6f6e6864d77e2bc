// Bars laid on the recording: its beats found or tapped, half or double, bar 1 on one of them; single bars fitted by hand.

import { steadyBeats } from '@glowchart/shared/beats/steady.ts'
import { barStart, ticksPerBar } from '@glowchart/shared/time/meter.ts'
import { bpmAt, secondsAt } from '@glowchart/shared/time/tempo.ts'
import { type PointerEvent, useState } from 'react'
import { edit } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'
import {
  applyFit,
  beatsNow,
  chooseRate,
  fitOf,
  heardAt,
  searchBeats,
  stopSearch,
  tapBeat,
  useBeats,
} from './beats.ts'
import { barTime, fixedBefore, putBarAt } from './changes.ts'
import { takeHold, useHeld } from './held.ts'
import { timeScale } from './time-scale.ts'

const RATES = [
  [0.5, '×½'],
  [1, '×1'],
  [2, '×2'],
] as const

export function BeatsGroup({ viewed }: { viewed: ViewedSong }) {
  const state = useBeats()
  const playing = useSession(s => (s.status?.playing ?? false) && s.loaded === viewed.id)
  const onTap = (event: PointerEvent) => event.button === 0 && tapBeat(event.timeStamp)
  return (
    <>
      <h4>Beats</h4>
      {state.progress !== null ? (
        <p className="doing" role="status">
          <progress aria-label="Finding beats" value={state.progress} />
          Listening
          <button type="button" className="btn quiet" onClick={stopSearch}>
            Stop
          </button>
        </p>
      ) : (
        <div className="acts">
          <button type="button" className="btn" onClick={searchBeats}>
            Find tempo and beats
          </button>
          <button
            type="button"
            className="btn"
            aria-disabled={!playing}
            title={playing ? 'Press on every beat' : 'Play the song first, then press on every beat'}
            onPointerDown={event => playing && onTap(event)}
            // By key or assistive technology, without a pointer.
            onClick={event => playing && event.detail === 0 && tapBeat(event.timeStamp)}
          >
            Tap along
          </button>
        </div>
      )}
      {state.problem && (
        <p className="hint" role="alert">
          {state.problem.message}. {state.problem.remedy}
        </p>
      )}
      {state.found.length > 1 && <Laying viewed={viewed} />}
      <BarByHand viewed={viewed} />
    </>
  )
}

function Laying({ viewed }: { viewed: ViewedSong }) {
  const state = useBeats()
  const beats = beatsNow(state)
  const steady = steadyBeats(beats)
  const fit = fitOf(viewed, state)
  if (!fit || !steady) return null
  const marks = Object.values(fit.marks).flat().length
  const shift = (by: number) =>
    useBeats.setState({ downbeat: Math.min(beats.length - 1, Math.max(0, state.downbeat + by)) })
  return (
    <>
      <p className="hint">
        {beats.length} beats {state.tapped ? 'tapped' : 'found'}, about {(60 / steady.interval).toFixed(1)} a
        minute.
      </p>
      <fieldset className="choices" aria-label="How fast the pulse is taken">
        {RATES.map(([rate, says]) => (
          <button
            key={rate}
            type="button"
            className="btn"
            aria-pressed={state.rate === rate}
            aria-label={rate === 1 ? 'As found' : rate === 2 ? 'Double' : 'Half'}
            onClick={() => chooseRate(rate)}
          >
            {says}
          </button>
        ))}
        <button
          type="button"
          className="btn"
          aria-label="Bar 1 a beat earlier"
          aria-disabled={state.downbeat === 0}
          onClick={() => shift(-1)}
        >
          ◂
        </button>
        <span>bar 1 on beat {state.downbeat + 1}</span>
        <button type="button" className="btn" aria-label="Bar 1 a beat later" onClick={() => shift(1)}>
          ▸
        </button>
      </fieldset>
      <label className="check">
        <input
          type="checkbox"
          checked={state.follow}
          onChange={event => useBeats.setState({ follow: event.currentTarget.checked })}
        />
        Follow the playing with tempo marks
      </label>
      <p className="hint">
        {fit.bpm.toFixed(2)} BPM{state.follow && `, ${marks} marks`}; bars at most{' '}
        {Math.round(fit.worst * 1000)} ms off the beats.
      </p>
      <div className="acts">
        <button
          type="button"
          className="btn"
          onClick={() => {
            useBeats.setState({ fitted: [] })
            void applyFit('Bars laid on the recording', viewed, fit)
          }}
        >
          Lay bars on it
        </button>
        <MoreBars viewed={viewed} />
      </div>
    </>
  )
}

/** Where the recording goes on after the song's end: bars for the rest of it. */
function MoreBars({ viewed }: { viewed: ViewedSong }) {
  const { id, song, timeline } = viewed
  const last = timeline.sections.at(-1)
  const meter = timeline.meters.at(-1)!.meter
  const perBar = (ticksPerBar(meter) * 60) / (bpmAt(timeline.tempo, timeline.length) * 960)
  const rest = song.audio!.seconds - song.audio!.start - secondsAt(timeline.tempo, timeline.length)
  const more = Math.min(999 - (last?.bars ?? 999), Math.floor(rest / perBar))
  if (!last || more < 1 || last.source !== last.id) return null
  return (
    <button
      type="button"
      className="btn"
      title="The recording goes on after the song's last bar"
      onClick={() => void edit('setSectionBars', { song: id, section: last.id, bars: last.bars + more })}
    >
      Add {more} bars
    </button>
  )
}

function BarByHand({ viewed }: { viewed: ViewedSong }) {
  const { sections } = viewed.timeline
  const bars = sections.reduce((sum, s) => sum + s.bars, 0)
  const [chosen, setChosen] = useState(0)
  const fitted = useBeats(s => s.fitted)
  const mode = useHeld(s => s.mode)
  const bar = Math.min(chosen, bars)
  const held = (n: number) => Math.min(bars, Math.max(0, n))
  const isEnd = barStart(viewed.timeline.meters, bar) === viewed.timeline.length
  return (
    <>
      <h4>By hand</h4>
      <div className="facts">
        <Figure
          label="Bar"
          value={bar}
          first={0}
          text={n => (n === bars ? 'the end' : `bar ${n + 1}`)}
          number={n => n + 1}
          parse={text => {
            const n = Number.parseInt(text.replace(/\D+/, ''), 10)
            return Number.isFinite(n) ? held(n - 1) : null
          }}
          step={(n, by) => held(n + by)}
          onDraft={setChosen}
          onChange={setChosen}
        />
        <Figure
          {...timeScale}
          label="begins at"
          value={barTime(viewed, bar)}
          onChange={time => putBarAt(viewed, bar, time)}
        />
      </div>
      <div className="acts">
        <button
          type="button"
          className="btn"
          title="The bar begins where the playhead is in the recording"
          onClick={() => {
            const time = heardAt(performance.now())
            if (time !== null) void putBarAt(viewed, bar, time)
          }}
        >
          {isEnd ? 'The end is here' : `Bar ${bar + 1} is here`}
        </button>
        <button
          type="button"
          className="btn"
          aria-pressed={mode === 'fit'}
          onClick={() => takeHold(mode === 'fit' ? 'off' : 'fit')}
        >
          Fit bars on chart
        </button>
      </div>
      <p className="hint">
        {bar === 0
          ? 'Bar 1 moves the whole recording.'
          : `The tempo bends between bar ${fixedBefore(fitted, bar) + 1} and this one.`}
      </p>
    </>
  )
}
