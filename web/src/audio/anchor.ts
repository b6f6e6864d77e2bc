// Ties sound to light: turns the engine's frames into stretches of the song on the AudioContext's clock, a little ahead.

import {
  type Fix,
  type Flow,
  flowFrom,
  flowOn,
  flowUntil,
  type Stretch,
  type Ways,
} from '@glowchart/shared/clock/flow.ts'
import { bpmAt, secondsAt } from '@glowchart/shared/time/tempo.ts'
import { TICKS_PER_BEAT, type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { useSession } from '../document/session.ts'
import { type ViewedSong, viewedSong } from '../document/viewed.ts'
import { pageTime } from '../live/engine-clock.ts'
import { onFix } from '../live/playhead.ts'
import { playedNow } from '../version/running.ts'
import { audioContext, contextTime, readAudioClock } from './context.ts'

/** A stretch of the song that is about to be heard. Times are the AudioContext's, s. */
export interface Heard {
  readonly viewed: ViewedSong
  /** Written ticks, half-open. */
  readonly from: Ticks
  readonly to: Ticks
  /** `on`: where the last one ended. `jump`: a loop or a vamp went back. `start`: after silence. */
  readonly begins: Stretch['begins']
  /** Song seconds a second: the speed at which a recording must run. */
  readonly rate: number
  /** When a tick of this stretch (or a little past it) is to sound; may lie in the past just after a start. */
  timeOf(tick: number): number
}

/** A song that is counted in: it will move from `at`. */
export interface Counted {
  readonly viewed: ViewedSong
  readonly at: Ticks
  /** When a tick before the start (negative) is counted, AudioContext's s, in the tempo of the start. */
  timeOf(before: number): number
}

/** Who sounds with the song. */
export interface Sounding {
  /** Called once when a count-in begins. */
  count?(counted: Counted): void
  /** Called ahead of time with what comes next, each part of the song once. */
  play(heard: Heard): void
  /** The song was stopped or moved: be silent at once, and forget what has been scheduled. */
  silence(): void
}

/** How far ahead sound is scheduled, s: longer than a page may be busy, shorter than anybody feels a change come late. */
const AHEAD = 0.3
const LOOK_EVERY = 25
/** A song starts on its own grid of frames, so the frame that first moves may come so much later (ms), at the slowest. */
const GRID = 120

const players = new Set<Sounding>()
let flow: Flow | null = null
let flowing: ViewedSong | null = null
let ending: (() => void) | null = null
/** When the song that is counted in will move, engine ms. */
let starting: number | null = null
/** Whether its count-in is still to be told. */
let counting = false

/** Joins in. Returns what ends it. */
export function soundWith(player: Sounding): () => void {
  players.add(player)
  ending ??= watch()
  return () => {
    players.delete(player)
    if (players.size > 0) return
    ending?.()
    ending = null
    flow = null
  }
}

function watch(): () => void {
  const unfix = onFix(fix => {
    // A song that is counted in stands, and yet goes on.
    if (fix.playing) take(fix)
    else if (starting === null || fix.at > starting + GRID) halt()
  })
  const unwatch = useSession.subscribe(({ status }) => {
    const starts = status?.starts ?? null
    if (starts === starting) return
    starting = starts
    if (starts !== null) begin(starts, status!.position)
    else if (!status?.playing) halt()
  })
  const looking = setInterval(look, LOOK_EVERY)
  return () => {
    unfix()
    unwatch()
    clearInterval(looking)
  }
}

function take(fix: Fix): void {
  const song = playedSong()
  if (song?.timeline !== flowing?.timeline) halt()
  flowing = song
  if (!song || audioContext()?.state !== 'running') return halt()
  const next = flow && flowOn(flow, fix, song.timeline, ways())
  if (flow && !next) halt()
  flow = next ?? flowFrom(fix, expectedRate(song, fix.position))
  look()
}

/** The engine has told when the song will move. */
function begin(starts: number, position: number): void {
  halt()
  counting = true
  take({ at: starts, position })
}

/** Tells of the count-in as soon as it is known when it will be heard. */
function count(song: ViewedSong, { fix, rate }: Flow, origin: number): void {
  counting = false
  const perTick = 60 / (bpmAt(song.timeline.tempo, ticks(fix.position)) * TICKS_PER_BEAT * rate)
  const timeOf = (before: number) => origin + fix.at / 1000 + before * perTick
  for (const player of players) player.count?.({ viewed: song, at: ticks(fix.position), timeOf })
}

/** Gives out what comes until a little ahead of now. */
function look(): void {
  const context = audioContext()
  readAudioClock()
  if (!flow || !flowing || !context) return
  const song = flowing
  const origin = audioTimeOf(0)
  if (origin === null) return
  if (counting) count(song, flow, origin)
  const until = 1000 * (context.currentTime + AHEAD - origin)
  const next = flowUntil(flow, until, song.timeline, ways())
  flow = next.flow
  for (const stretch of next.stretches) {
    const heard = heardAs(stretch, song, origin)
    for (const player of players) player.play(heard)
  }
}

function heardAs({ from, to, at, rate, begins }: Stretch, viewed: ViewedSong, origin: number): Heard {
  const { tempo } = viewed.timeline
  const began = secondsAt(tempo, from)
  const timeOf = (tick: number) => origin + at / 1000 + (secondsAt(tempo, ticks(tick)) - began) / rate
  return { viewed, from, to, begins, rate, timeOf }
}

function halt(): void {
  if (!flow) return
  flow = null
  counting = false
  for (const player of players) player.silence()
}

/** The AudioContext's time (s) of what is to be heard at an engine time (ms); null before the clocks are known. */
export function audioTimeOf(engine: number): number | null {
  const page = pageTime(engine)
  return page === null ? null : contextTime(page)
}

/** The song that the engine plays. */
function playedSong(): ViewedSong | null {
  const { loaded } = useSession.getState()
  return loaded === null ? null : viewedSong(playedNow()?.show ?? null, loaded)
}

function ways(): Ways {
  const status = useSession.getState().status
  const loop = status?.loop ? { from: ticks(status.loop.from), to: ticks(status.loop.to) } : null
  return { loop, released: status?.released ?? null }
}

/** Until frames tell the rate: on our own clock the speed, on MIDI clock the tempo heard against the one written. */
function expectedRate({ timeline }: ViewedSong, position: number): number {
  const status = useSession.getState().status
  if (!status) return 1
  if (status.clock.source === 'internal') return status.speed
  return status.clock.bpm > 0 ? status.clock.bpm / bpmAt(timeline.tempo, ticks(position)) : 1
}
