// The engine's listening thread: compiles what is loaded, forwards what is pressed, owns MIDI ports and discovery.

import type { SongMotion } from '@glowchart/shared/clock/sender.ts'
import { problem } from '@glowchart/shared/errors.ts'
import type { FromEngine, Resume, ToEngine, Transport } from '@glowchart/shared/messages.ts'
import { CHECK_LASTS } from '@glowchart/shared/render/check.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { TempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { LoopStatus } from './loop-messages.ts'
import { startLoop } from './loop-thread.ts'
import { monotonicMs } from './now.ts'
import type { Piece } from './player.ts'

export interface Engine {
  /**
   * Lets the frames begin. Before it the engine is loaded and costs nothing. `resuming`: they begin with the `resume`
   * that follows, so that nobody sees the song jump to its start.
   */
  begin(resuming: boolean): void
  handle(message: ToEngine): void
  /** What a new supervisor or page must know first: the documents held, the last state. */
  readonly held: { holding: Holding | null; resume: Resume | null }
  /** How the song moves, for who sends MIDI clock; null without a song. */
  motion(): SongMotion | null
  /** Ends the streams properly; resolves when the last packet has left. */
  close(): Promise<void>
}

type Holding = Extract<FromEngine, { type: 'holding' }>

export interface EngineOptions {
  /** 16 octets: this installation's sACN CID (E1.31-2018 5.6). */
  cid: Uint8Array
  tell(message: FromEngine): void
  /** What the engine hears besides messages; asked for each status. */
  midiStatus?: () => { available: boolean; ports: string[]; says: string }
  discover?: () => void
}

const NO_MIDI = { available: false, ports: [], says: '' }

/** Resolves when everything is loaded. */
export async function createEngine(options: EngineOptions): Promise<Engine> {
  const { tell } = options
  let holding: Holding | null = null
  let resume: Resume | null = null
  let status: LoopStatus | null = null
  let song: string | null = null
  let expecting = false
  /** What came while a resume was expected. */
  const early: ToEngine[] = []
  /** The tempo map of the song that is loaded. */
  let tempo: TempoMap | null = null
  let end: () => void = () => {}
  const ended = new Promise<void>(resolve => {
    end = resolve
  })

  const loop = await startLoop(options.cid, message => {
    if (message.type === 'ended') end()
    else if (message.type === 'status') {
      resume = message.resume
      status = message.status
      const midi = options.midiStatus?.() ?? NO_MIDI
      tell({
        type: 'status',
        status: { ...message.status, revision: holding?.revision ?? 0, pid: process.pid, midi },
      })
      tell({ type: 'resume', state: message.resume })
    } else if (message.type !== 'ready') tell(message)
  })
  const { send } = loop

  const pieceOf = (id: string): Piece | null => {
    if (!holding || !Object.hasOwn(holding.show.songs, id)) return null
    const { rig, show, revision } = holding
    const compiled = compileSong(rig, show, show.tonight, id)
    tempo = compiled.timeline.tempo
    return { song: id, revision, compiled, plan: levelPlan(rig, show.kits[show.tonight]!) }
  }

  const load = (rig: Rig, show: Show, revision: number): void => {
    holding = { type: 'holding', rig, show, revision }
    tell(holding)
    if (expecting) return
    const same = song === null ? null : pieceOf(song)
    if (same) return send({ type: 'piece', piece: same })
    song = show.songOrder[0] ?? null
    const piece = song === null ? null : pieceOf(song)
    if (piece) send({ type: 'piece', piece, at: 0 })
  }

  const goOn = (state: Resume): void => {
    expecting = false
    song = state.transport.song
    const piece = song === null ? null : pieceOf(song)
    if (piece) send({ type: 'piece', piece, resume: state })
    for (const message of early.splice(0)) engine.handle(message)
  }

  const choose = (id: number, transport: Extract<Transport, { do: 'song' }>): void => {
    const piece = pieceOf(transport.song)
    if (!piece) {
      const missing = problem(
        'song.unknown',
        `there is no song "${transport.song}"`,
        holding?.show.name ?? 'engine',
      )
      return tell({ type: 'answer', id, problem: missing })
    }
    song = transport.song
    send({ type: 'piece', piece, at: transport.at })
    tell({ type: 'answer', id })
  }

  const engine: Engine = {
    get held() {
      return { holding, resume }
    },
    begin(resuming) {
      expecting = resuming
      if (!resuming) send({ type: 'begin' })
    },
    motion() {
      if (!status || !tempo) return null
      const { playing, at, starts, position, speed } = status
      return { playing, at: starts ?? at, place: ticks(position), speed, tempo }
    },
    handle(message) {
      // The loop must hear of the old engine's state before anything else: its first frame is the next of the old ones.
      if (expecting && message.type !== 'load' && message.type !== 'resume') return void early.push(message)
      switch (message.type) {
        case 'load':
          return load(message.rig, message.show, message.revision)
        case 'transport':
          if (message.transport.do === 'song') return choose(message.id, message.transport)
          return send({ type: 'transport', id: message.id, transport: message.transport })
        case 'midi':
          return send({ type: 'midi', at: message.midi.at, bytes: message.midi.bytes })
        case 'resume':
          return goOn(message.state)
        case 'discover':
          options.discover?.()
          return tell({ type: 'answer', id: message.id })
        case 'check':
          return send({ ...message, until: monotonicMs() + CHECK_LASTS })
        case 'live':
        case 'output':
        case 'frames':
          return send(message)
      }
    },
    async close() {
      send({ type: 'end' })
      await ended
      await loop.close()
    },
  }
  return engine
}
