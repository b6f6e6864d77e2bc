// The beats of the recording on the page, found or tapped, and how its bars are to be laid on them.

import { type Fit, layBars } from '@glowchart/shared/beats/lay.ts'
import { atRate, type PulseRate } from '@glowchart/shared/beats/steady.ts'
import type { Problem } from '@glowchart/shared/errors.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { create } from 'zustand'
import { editTogether, type Told } from '../document/editing.ts'
import { say } from '../document/session.ts'
import { type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { positionAt } from '../live/playhead.ts'
import { playedSong } from '../version/on-chart.ts'
import { mono } from './decode.ts'
import { listen } from './listening.ts'
import { useRecording } from './recordings.ts'

interface Beats {
  /** The file they are of. */
  readonly file: string | null
  /** How far the search is, 0…1; null: none goes on. */
  readonly progress: number | null
  /** As found or tapped, s of the recording; empty: none. */
  readonly found: readonly number[]
  readonly tapped: boolean
  readonly rate: PulseRate
  /** Which beat, at that rate, begins bar 1. */
  readonly downbeat: number
  readonly follow: boolean
  readonly problem: Problem | null
  /** Bars (0-based) that were fitted by hand: the tempo before the last of them stays. */
  readonly fitted: readonly number[]
}

const NONE: Beats = {
  file: null,
  progress: null,
  found: [],
  tapped: false,
  rate: 1,
  downbeat: 0,
  follow: false,
  problem: null,
  fitted: [],
}
export const useBeats = create<Beats>(() => NONE)

let stop: (() => void) | null = null

/** Forgets beats when another recording comes onto the page. */
useRecording.subscribe(({ file }) => {
  if (file === useBeats.getState().file) return
  stopSearch()
  useBeats.setState({ ...NONE, file })
})

/** Listens through the recording for its beats. */
export function searchBeats(): void {
  const { buffer, file } = useRecording.getState()
  if (!buffer || file === null) return
  stopSearch()
  useBeats.setState({ progress: 0, problem: null })
  const where = viewedSongNow()?.song.audio?.name ?? file
  stop = listen({ find: 'beats', samples: mono(buffer), where }, said => {
    if (said.type === 'progress') useBeats.setState({ progress: said.share })
    else if (said.type === 'refused') useBeats.setState({ progress: null, problem: said.problem })
    else if (said.type === 'beats') {
      useBeats.setState({ progress: null, found: said.beats, tapped: false, rate: 1, downbeat: 0 })
      say(`${said.beats.length} beats found`)
    }
  })
}

export function stopSearch(): void {
  stop?.()
  stop = null
  useBeats.setState({ progress: null })
}

/** Where the recording is heard now, s of it; null without one. @param now page time, ms */
export function heardAt(now: number): number | null {
  const viewed = viewedSongNow()
  const played = viewed && playedSong(viewed)
  if (!played?.song.audio) return null
  return played.song.audio.start + secondsAt(played.timeline.tempo, ticks(positionAt(now)))
}

/** A longer pause than this between taps, s, begins anew. */
const PAUSE = 3

/** A beat tapped along with the recording. @param now page time of the tap, ms */
export function tapBeat(now: number): void {
  const time = heardAt(now)
  if (time === null) return
  const { found, tapped } = useBeats.getState()
  const last = found.at(-1) ?? Number.NaN
  const goesOn = tapped && time > last + 0.1 && time < last + PAUSE
  useBeats.setState({
    found: goesOn ? [...found, time] : [time],
    tapped: true,
    rate: 1,
    problem: null,
    ...(goesOn ? {} : { downbeat: 0 }),
  })
}

/** The beats at the rate that is chosen. */
export const beatsNow = ({ found, rate }: Beats): readonly number[] => atRate(found, rate)

/** Chooses another rate; bar 1 stays as near to where it was as a beat allows. */
export function chooseRate(rate: PulseRate): void {
  const state = useBeats.getState()
  const at = beatsNow(state)[state.downbeat] ?? 0
  const beats = atRate(state.found, rate)
  const nearest = beats.reduce(
    (best, time, i) => (Math.abs(time - at) < Math.abs(beats[best]! - at) ? i : best),
    0,
  )
  useBeats.setState({ rate, downbeat: nearest })
}

/** The tempo and marks that lay the song's bars on the beats as chosen; null without beats. */
export const fitOf = ({ song }: ViewedSong, state: Beats): Fit | null =>
  layBars(song, beatsNow(state), state.downbeat, state.follow)

/** Puts a fit in place, as one step back. */
export function applyFit(says: string, { id, song }: ViewedSong, fit: Fit): Promise<unknown> {
  const told: Told[] = [['setSong', { song: id, bpm: fit.bpm }]]
  for (const [section, marks] of Object.entries(fit.marks)) {
    const old = song.sections[section]!.tempo
    if (JSON.stringify(old) !== JSON.stringify(marks)) {
      told.push(['setTempoMarks', { song: id, section, tempo: [...marks] }])
    }
  }
  if (song.audio) told.push(['setAudio', { song: id, audio: { ...song.audio, start: fit.start } }])
  return editTogether(says, told)
}
