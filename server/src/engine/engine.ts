// The engine's listening thread: compiles what is loaded, forwards what is pressed, owns MIDI ports and discovery.

import type { SongMotion } from '@glowchart/shared/clock/sender.ts'
import { problem } from '@glowchart/shared/errors.ts'
import type {
  Discover,
  FromEngine,
  MidiChoice,
  MidiStatus,
  Resume,
  ToEngine,
  Transport,
} from '@glowchart/shared/messages.ts'
import { CHECK_LASTS } from '@glowchart/shared/render/check.ts'
import { compileLook, songCompiler } from '@glowchart/shared/render/compile.ts'
import { type LevelPlan, levelPlan } from '@glowchart/shared/render/levels.ts'
import type { LivePatch } from '@glowchart/shared/render/live.ts'
import { stepAt, stepsOf } from '@glowchart/shared/set/steps.ts'
import { timecodeStart } from '@glowchart/shared/set/timeline.ts'
import type { Changed } from '@glowchart/shared/show/change.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import type { TempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { situationAt } from '@glowchart/shared/trigger/situation.ts'
import { noUnderstudy, type UnderstudyStatus } from '@glowchart/shared/understudy/status.ts'
import { sharing } from '@glowchart/shared/version/sharing.ts'
import { createHouse } from '../house/house.ts'
import type { ArtDmx } from '../output/artnet.ts'
import { type Chosen, chosenIn, missing } from './chosen.ts'
import { clockInlet } from './clock-inlet.ts'
import { createConductor } from './conductor.ts'
import type { LoopStatus, Mirror } from './loop-messages.ts'
import { startLoop } from './loop-thread.ts'
import { monotonicMs } from './now.ts'
import { createOsc } from './osc.ts'
import { ADOPTED, followsAnother, isPress, type PairSide, pairSide } from './pair-side.ts'
import { createPedals } from './pedals.ts'
import { changedFrom, tracksOnTop } from './piece-change.ts'
import type { Piece } from './player.ts'
import { follows } from './press.ts'
import { tempoTaps } from './taps.ts'

export interface Engine {
  /**
   * Lets the frames begin. Before it the engine is loaded and costs nothing. `resuming`: they begin with the `resume`
   * that follows, so that nobody sees the song jump to its start. `silent`: another laptop drives the light.
   */
  begin(resuming: boolean, silent: boolean): void
  handle(message: ToEngine): void
  /** The choice of MIDI ports that was kept. */
  useMidi(choice: MidiChoice): void
  /** An ArtDmx came to this laptop. */
  artDmx(packet: ArtDmx, from: string): void
  /** The Port-Address that this laptop takes; null: none. */
  artnetPort(): number | null
  /** What a new supervisor or page must know first: the documents held, the last state. */
  readonly held: { holding: Holding | null; resume: Resume | null }
  readonly pair: PairSide
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
  midiStatus?: () => Pick<MidiStatus, 'available' | 'ports' | 'outputs' | 'says'>
  /** Acts on a choice of MIDI ports, and keeps it. Rejects when it cannot be kept. */
  keepMidi?: (choice: MidiChoice) => Promise<void>
  discover?: (wish: Discover) => void
  /** Why no Art-Net can be heard, in plain words. */
  artnetFault?: () => string
  /** How the pair stands; asked for each status. */
  understudy?: () => UnderstudyStatus
}

/** The number of what nobody waits for the answer of: pressed by a pedal, or by the engine itself. */
const UNASKED = -1
const NO_MIDI = { available: false, ports: [], outputs: [], says: '' }

/** Resolves when everything is loaded. */
export async function createEngine(options: EngineOptions): Promise<Engine> {
  const { tell } = options
  let holding: Holding | null = null
  let resume: Resume | null = null
  let status: LoopStatus | null = null
  let chosen: Chosen | null = null
  /** Where in tonight's set that is. */
  let chosenPlace: number | null = null
  let expecting = false
  /** Another laptop drives the light, and this one shows what it does. */
  let silent = false
  /** What came while a resume was expected. */
  const early: ToEngine[] = []
  /** The tempo map of the song or the look that is loaded. */
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
        status: {
          ...message.status,
          pid: process.pid,
          midi: midiStatus(midi),
          osc: osc.status(),
          house: house.status(),
          version: holding?.version ?? null,
          understudy: options.understudy?.() ?? noUnderstudy,
        },
      })
      tell({ type: 'resume', state: message.resume })
    } else if (message.type !== 'ready') tell(message)
  })
  const { send } = loop
  const compile = songCompiler()
  /** The plan of what stands tonight. */
  let standing: { rig: Documents['rig']; kit: Kit; plan: LevelPlan } | null = null
  /** The piece that the loop has. */
  let sent: Piece | null = null

  const pieceOf = (one: Chosen): Piece | null => {
    if (!holding) return null
    const { rig, show, revision } = holding
    if (!Object.hasOwn('song' in one ? show.songs : show.looks, 'song' in one ? one.song : one.look))
      return null
    const kit = show.kits[show.tonight]!
    const compiled =
      'song' in one
        ? compile(rig, show, show.tonight, one.song)
        : compileLook(rig, show, show.tonight, one.look)
    tempo = compiled.timeline.tempo
    if (standing?.rig !== rig || standing.kit !== kit) standing = { rig, kit, plan: levelPlan(rig, kit) }
    const startsAt = 'song' in one ? timecodeStart(show, placeOf(show, one.song)) : null
    return { song: null, ...one, ...(startsAt && { startsAt }), revision, compiled, plan: standing.plan }
  }

  const placeOf = (show: Documents['show'], song: string): number =>
    stepAt(stepsOf(show), { song, look: null, place: chosenPlace })

  const sendPiece = (
    piece: Piece,
    how: { at?: number; place?: number | null; resume?: Resume; silent?: boolean; mirror?: Mirror } = {},
  ): void => {
    send({ type: 'piece', piece, ...how })
    sent = piece
  }

  /** The song that plays, with what edits changed in it: between two frames it takes the place of the one before. */
  const sendSame = (): boolean => {
    const piece = chosen && pieceOf(chosen)
    if (!piece) return false
    const tracks = sent && tracksOnTop(sent, piece)
    if (tracks) send({ type: 'tracks', revision: piece.revision, tracks })
    else send({ type: 'piece', piece })
    sent = piece
    return true
  }

  /** The song that plays goes on; a show that has it no longer begins with its first. */
  const playHeld = ({ show }: Documents): void => {
    osc.listen(show.osc)
    house.listen(show.kits[show.tonight]!.venue?.house)
    if (expecting || sendSame()) return
    const song = show.songOrder[0]
    chosen = song === undefined ? null : { song }
    const piece = chosen && pieceOf(chosen)
    if (piece) sendPiece(piece, { at: 0 })
  }

  /** Another band: what was chosen, and what hands did to the first one's parts, is not for it. */
  const changeOver = (): void => {
    chosen = null
    send({ type: 'live', id: UNASKED, live: { parts: null, bumps: null, solo: [] } })
  }

  const load = ({ revision, version, ...given }: Extract<ToEngine, { type: 'load' | 'inherit' }>): void => {
    // What is equal is the same object, so that only what differs is compiled, and handed to the loop between two frames.
    const rig = sharing(given.rig, holding?.rig)
    const show = sharing(given.show, holding?.show)
    if (holding && holding.show.id !== show.id) changeOver()
    holding = { type: 'holding', rig, show, revision, ...(version !== undefined && { version }) }
    playHeld(holding)
    tell(holding)
  }

  const change = (changed: Changed): void => {
    const next = holding?.revision === changed.from ? changedFrom(holding, changed) : null
    if (!next) return tell({ type: 'behind' })
    const { from, revision, changes } = changed
    holding = { type: 'holding', ...next, revision }
    playHeld(holding)
    tell({ type: 'changed', from, revision, changes })
  }

  const goOn = (state: Resume): void => {
    expecting = false
    chosen = chosenIn(state.transport)
    chosenPlace = state.transport.place
    const piece = chosen && pieceOf(chosen)
    if (piece) sendPiece(piece, { resume: state, silent })
    house.inherit(state.house)
    send({ type: 'house', house: house.house })
    for (const message of early.splice(0)) engine.handle(message)
  }

  const choose = (id: number, transport: Extract<Transport, { do: 'song' | 'look' }>): void => {
    const one = transport.do === 'song' ? { song: transport.song } : { look: transport.look }
    const before = chosenPlace
    chosenPlace = transport.place ?? null
    const piece = pieceOf(one)
    if (!piece) {
      chosenPlace = before
      return tell({ type: 'answer', id, problem: missing(one, holding?.show.name ?? 'engine') })
    }
    chosen = one
    sendPiece(piece, { at: transport.do === 'song' ? transport.at : 0, place: chosenPlace })
    tell({ type: 'answer', id })
  }

  const taps = tempoTaps()
  /** Taps are timed here, before a frame rounds them. */
  const tap = (id: number, at = monotonicMs()): void => {
    const factor = sent && status ? taps(at, sent.compiled.timeline, status.position) : null
    if (status && status.clock.source !== 'internal')
      tell({ type: 'answer', id, problem: follows(status.clock.source, 'sets the tempo') })
    else if (factor === null) tell({ type: 'answer', id })
    else send({ type: 'transport', id, transport: { do: 'speed', factor } })
  }

  const hands = {
    now: () =>
      holding && status
        ? { show: holding.show, situation: situationAt(status, holding.show, monotonicMs()) }
        : null,
    press: (transport: Transport) => engine.handle({ type: 'transport', id: UNASKED, transport }),
    setLive: (live: LivePatch) => engine.handle({ type: 'live', id: UNASKED, live }),
  }
  const pedals = createPedals({
    ...hands,
    touched: input => tell({ type: 'touched', input }),
    sinceStart: at => (status?.clock.source === 'midi' ? conductor.sinceStart(at) : 0),
  })
  const osc = createOsc({ ...hands, touch: pedals.touch })
  const conductor = createConductor({
    now: () => (holding && status ? { show: holding.show, situation: status } : null),
    standing: () => ({ song: null, look: null, ...chosen, place: chosenPlace }),
    choose: choice => {
      // The one that leads hears the same clock, and has chosen.
      if (!silent) choose(UNASKED, choice)
    },
    pass: (bytes, at) => send({ type: 'midi', at, bytes }),
  })
  const inlet = clockInlet(conductor.hear)
  let midiChoice: MidiChoice = { clockFrom: null, clockTo: null }
  const midiStatus = (midi: Pick<MidiStatus, 'available' | 'ports' | 'outputs' | 'says'>): MidiStatus => {
    const { from, speaking } = inlet.status(monotonicMs())
    return { ...midi, clockPort: from, speaking, choice: midiChoice }
  }
  const chooseMidi = (id: number, choice: MidiChoice): void => {
    engine.useMidi(choice)
    Promise.resolve(options.keepMidi?.(choice)).then(
      () => tell({ type: 'answer', id }),
      (error: Error) =>
        tell({
          type: 'answer',
          id,
          problem: problem('midi.notKept', `the choice cannot be saved: ${error.message}`, 'MIDI ports'),
        }),
    )
  }

  const house = createHouse({
    cid: options.cid,
    // While a resume is expected the loop must hear of that first; it is told of the house right after.
    changed: held => {
      if (!expecting) send({ type: 'house', house: held })
    },
    clock: monotonicMs,
    artnetFault: () => options.artnetFault?.() ?? '',
    sends: () => (status?.outputs ?? []).map(({ route }) => route),
  })

  const engine: Engine = {
    get held() {
      return { holding, resume }
    },
    begin(resuming, begunSilent) {
      expecting = resuming
      silent = begunSilent
      if (!resuming) send({ type: 'begin' })
      if (!resuming && silent) send({ type: 'stand', stand: { silent, lift: 0, alone: false } })
    },
    pair: pairSide({
      holding: () => holding,
      resume: () => resume,
      sent: () => sent,
      isChosen: one => chosen !== null && sameValue(chosen, one),
      send,
      stand(stand) {
        silent = stand.silent
        send({ type: 'stand', stand })
      },
      show(one, mirror) {
        const piece = pieceOf(one)
        if (!piece) return
        chosen = one
        sendPiece(piece, { mirror })
      },
      adopt(documents) {
        load({ type: 'load', ...documents, revision: ADOPTED })
        tell({ type: 'adopted', ...documents })
      },
    }),
    useMidi(choice) {
      midiChoice = choice
      inlet.choose(choice.clockFrom)
    },
    artDmx: house.artDmx,
    artnetPort: () => house.artnetPort,
    motion() {
      if (!status || !tempo) return null
      const { playing, at, starts, position, speed } = status
      return { playing, at: starts ?? at, place: ticks(position), speed, tempo }
    },
    handle(message) {
      // The loop must hear of the old engine's state before anything else: its first frame is the next of the old ones.
      if (expecting && !beforeResume.has(message.type)) return void early.push(message)
      if (silent && isPress(message)) {
        if ('id' in message) tell({ type: 'answer', id: message.id, problem: followsAnother })
        return
      }
      switch (message.type) {
        case 'load':
          // What is shown is the other laptop's; an app that does not have it yet is told.
          if (silent && holding && !sameValue([message.rig, message.show], [holding.rig, holding.show]))
            return tell({ type: 'adopted', rig: holding.rig, show: holding.show })
          return load(message)
        case 'inherit':
          return holding ? undefined : load(message)
        case 'change':
          return change(message)
        case 'transport':
          if (message.transport.do === 'song' || message.transport.do === 'look')
            return choose(message.id, message.transport)
          if (message.transport.do === 'tap') return tap(message.id, message.transport.at)
          return send({ type: 'transport', id: message.id, transport: message.transport })
        case 'midi':
          // Pedals first: a song that is named in the same breath as its Start is there before it.
          pedals.hear(message.midi)
          return inlet.hear(message.midi)
        case 'midiChoice':
          return chooseMidi(message.id, message.choice)
        case 'resume':
          return goOn(message.state)
        case 'discover':
          options.discover?.(message.discover)
          return tell({ type: 'answer', id: message.id })
        case 'releaseHouse': {
          const refused = house.release()
          return tell({ type: 'answer', id: message.id, ...(refused && { problem: refused }) })
        }
        case 'check':
          return send({ ...message, until: monotonicMs() + CHECK_LASTS })
        case 'live':
        case 'output':
        case 'frames':
          return send(message)
      }
    },
    async close() {
      osc.close()
      house.close()
      send({ type: 'end' })
      await ended
      await loop.close()
    },
  }
  return engine
}

/** What may come before the state that a resuming engine waits for. */
const beforeResume: ReadonlySet<ToEngine['type']> = new Set(['load', 'inherit', 'resume'])
