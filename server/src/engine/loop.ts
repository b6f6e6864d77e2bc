// The frame loop's thread: waits for each deadline, renders, sends; hears the rest of the engine between frames.

import { constants, setPriority } from 'node:os'
import { type MessagePort, receiveMessageOnPort, workerData } from 'node:worker_threads'
import type { TransportState } from '@glowchart/shared/clock/transport.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { encodeFrame } from '@glowchart/shared/frame.ts'
import type { Resume } from '@glowchart/shared/messages.ts'
import { type Output, outputSchema } from '@glowchart/shared/show/output.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { loadDmxnet } from '../output/dmxnet-adapter.ts'
import { type Outputs, openOutputs } from '../output/outputs.ts'
import { beatSender } from '../understudy/beats.ts'
import { errorHistogram } from './error-histogram.ts'
import { type FrameClock, frameClock } from './frame-clock.ts'
import { frameNews } from './frame-news.ts'
import type { FromLoop, Mirror, Run, Stand, ToLoop } from './loop-messages.ts'
import { monotonicMs } from './now.ts'
import { createPlayer, type Piece } from './player.ts'

const { port, cid } = workerData as { port: MessagePort; cid: Uint8Array }
const tell = (message: FromLoop, transfer: ArrayBuffer[] = []): void => port.postMessage(message, transfer)

/** Status and resume are told this often. */
const TELL_HZ = 10

let output: Output = outputSchema.parse({})
let outputs: Outputs = await openOutputs(output, { cid })
let clock: FrameClock = frameClock(0, output.rate, 0)
let errors = errorHistogram()
let skippedBefore = 0
let late = 0
let framesWanted = false
const news = frameNews()
/** A press is told with the frame that shows it, not at the next tenth of a second. */
let tellSoon = false
/** The frame under way has the number of another grid, and is left out. */
let regridded = false
let ending = false
const player = createPlayer(output.rate)
/** Another laptop drives the light: no way out is open, whatever `output` says. */
let silent = false
/** Added to every sACN priority. */
let lift = 0
/** The last sequence numbers of ways out that are closed now. */
let sequences: Record<string, number> = {}
const beats = beatSender()

function hear(message: ToLoop, frame: number): void {
  switch (message.type) {
    case 'piece':
      player.take(message.piece, frame, message.at, message.place)
      silent = message.silent ?? silent
      if (message.resume) resume(message.resume)
      if (message.mirror) mirror(message.mirror, frame)
      tellSoon = true
      break
    case 'tracks':
      if (player.piece) player.take(withTracks(player.piece, message), frame)
      tellSoon = true
      break
    case 'transport':
      tellSoon = true
      tell({ type: 'answer', id: message.id, ...problemOf(player.press(message.transport, frame)) })
      break
    case 'live':
      tellSoon = true
      player.setLive(message.live)
      tell({ type: 'answer', id: message.id })
      break
    case 'house':
      tellSoon = true
      player.setHouse(message.house)
      break
    case 'check':
      tellSoon = true
      tell({
        type: 'answer',
        id: message.id,
        ...problemOf(player.setCheck(message.check, message.until)),
      })
      break
    case 'output':
      void openNext(message.output).then(
        () => tell({ type: 'answer', id: message.id }),
        error => tell({ type: 'answer', id: message.id, ...problemOf(codedProblem(error)) }),
      )
      break
    case 'midi':
      for (const byte of message.bytes) player.midi(byte, message.at)
      break
    case 'frames':
      framesWanted = message.on
      news.begin()
      break
    case 'mirror':
      mirror(message.mirror, frame)
      tellSoon = true
      break
    case 'stand':
      void stand(message.stand)
      break
    case 'beats':
      beats.order(message.orders)
      tellSoon = true
      break
    case 'run':
      void begin(message.run)
      break
    case 'begin':
      break
    case 'end':
      ending = true
  }
}

function withTracks(piece: Piece, { revision, tracks }: Extract<ToLoop, { type: 'tracks' }>): Piece {
  const had = new Map(piece.compiled.tracks.map(track => [track.id, track]))
  const all = tracks.map(track => (typeof track === 'string' ? had.get(track)! : track))
  return { ...piece, revision, compiled: { ...piece.compiled, tracks: all } }
}

/** The same grid in time and in number: frame n is due when the old engine would have sent it. */
function resume(state: Resume): void {
  skippedBefore += clock.skipped
  clock = frameClock(
    state.origin,
    state.rate,
    Math.ceil(((monotonicMs() - state.origin) * state.rate) / 1000),
  )
  player.resume(state)
  regridded = true
  sequences = state.sequences
  void openNext(state.output)
}

/** The other laptop's frames on our clock: its numbers, its rate, and due when its are. */
function mirror({ origin, rate, transport, heard, live, house }: Mirror, frame: number): void {
  if (origin !== null || rate !== clock.rate) {
    skippedBefore += clock.skipped
    const grid = origin ?? clock.dueAt(frame) - (frame * 1000) / rate
    clock = frameClock(grid, rate, Math.ceil(((monotonicMs() - grid) * rate) / 1000))
    player.setRate(rate, frame)
    regridded = true
  }
  const own = heard && heard.source !== 'internal' && player.hears(heard.source, clock.dueAt(frame))
  player.mirror(own ? heard : transport, live, house)
}

async function stand(next: Stand): Promise<void> {
  silent = next.silent
  lift = next.lift
  await openNext(next.output ?? null, next.alone)
}

const problemOf = (problem: CodedError['problem'] | undefined) => (problem ? { problem } : {})

const codedProblem = (error: unknown): CodedError['problem'] => {
  if (error instanceof CodedError) return error.problem
  throw error
}

/** Outputs that are open and wait for the next frame to take over. */
let next: { output: Output; outputs: Outputs } | null = null

/** One opens after the other: Art-Net takes longer than silence, and the last wish is the one that counts. */
let opening: Promise<void> = Promise.resolve()

/** @param wanted null: what is sent to, or will be from the next frame on */
function openNext(wanted: Output | null, alone = false): Promise<void> {
  const mine = opening.then(() => open(wanted ?? next?.output ?? output, alone))
  opening = mine.catch(() => {})
  return mine
}

async function open(to: Output, alone: boolean): Promise<void> {
  sequences = { ...sequences, ...outputs.sequences() }
  const sent = silent ? { ...to, routes: [] } : to
  const opened = await openOutputs(sent, { cid, sequences, lift })
  if (alone) opened.cancelMerge()
  // One that was never taken has begun no stream.
  void next?.outputs.close()
  next = { output: to, outputs: opened }
}

function takeNext(frame: number, due: number): void {
  if (!next) return
  const old = outputs
  ;({ output, outputs } = next)
  next = null
  if (output.rate !== clock.rate) {
    skippedBefore += clock.skipped
    // This frame keeps its number and its time; the grid through it is the new one.
    clock = frameClock(due - (frame * 1000) / output.rate, output.rate, frame + 1)
    player.setRate(output.rate, frame)
  }
  void old.close(silent ? { ...output, routes: [] } : output)
}

/** The run under way: its frames left, and the next of its MIDI bytes. */
let run: { left: number; began: number; midi: Run['midi']; next: number } | null = null

async function begin({ output: to, frames, midi }: Run): Promise<void> {
  const opened = await openOutputs(to, { cid })
  await outputs.close()
  outputs = opened
  output = to
  clock = frameClock(monotonicMs() + 1000 / to.rate, to.rate, 0)
  player.setRate(to.rate, 0)
  player.press({ do: 'clock', source: midi ? 'midi' : 'internal' }, 0)
  if (!midi) player.press({ do: 'play' }, 0)
  errors = errorHistogram()
  late = skippedBefore = 0
  run = { left: frames, began: clock.origin, midi, next: 0 }
}

function stepRun(due: number): void {
  if (!run) return
  for (
    let input = run.midi?.[run.next];
    input && run.began + input.ms <= due;
    input = run.midi?.[++run.next]
  ) {
    for (const byte of input.bytes) player.midi(byte, run.began + input.ms)
  }
  if (run.left-- <= 0) ending = true
}

/** When a song that is counted in passes the place where it rests: its first frame may lie a little past it. */
function startOf({ anchor, rest, speed }: TransportState): number {
  const tempo = player.piece?.compiled.timeline.tempo
  const past = tempo ? anchor.songFrame / clock.rate - secondsAt(tempo, rest) : 0
  return clock.dueAt(anchor.frame) - (1000 * past) / speed
}

/** Boxes that the frame rendered last holds back. */
function powerHeld(): { powerHeld?: string[] } {
  const limit = player.piece?.compiled.power
  if (!limit) return {}
  const held = limit.power.boxes.filter((_, i) => limit.factor[i]! < 1)
  return held.length > 0 ? { powerHeld: held } : {}
}

function status(due: number): void {
  const { transport, live, house, follower, timecode, piece, position } = player
  tell({
    type: 'status',
    status: {
      // The song was, or will be, where the light is now.
      at: due - player.lightOffset,
      revision: piece?.revision ?? 0,
      song: transport.song,
      look: transport.look,
      place: transport.place,
      playing: transport.playing,
      starts: transport.playing && !player.moves ? startOf(transport) : null,
      position,
      ...player.tempo(due),
      loop: transport.loop,
      repeated: transport.repeated,
      released: transport.released,
      clock: player.clockStatus(due),
      live,
      strobesHeld: player.takeStrobesHeld(),
      ...powerHeld(),
      check: player.check,
      frames: {
        rate: clock.rate,
        rendered: errors.count,
        late,
        skipped: skippedBefore + clock.skipped,
        errorP50: errors.within(0.5),
        errorP99: errors.within(0.99),
        errorMax: errors.worst,
      },
      outputs: outputs.status(),
    },
    resume: {
      origin: clock.origin,
      rate: clock.rate,
      transport,
      live,
      house,
      output,
      sequences: { ...sequences, ...outputs.sequences() },
      follower,
      timecode,
    },
  })
}

function oneFrame(): void {
  const frame = clock.next()
  const due = clock.dueAt(frame)
  const error = monotonicMs() - due
  // What comes after a resume is for the new grid's frames.
  while (!regridded) {
    const got = receiveMessageOnPort(port)
    if (!got) break
    hear(got.message as ToLoop, frame)
  }
  if (regridded) {
    regridded = false
    return void setImmediate(oneFrame)
  }
  takeNext(frame, due)
  stepRun(due)
  if (ending) return void end()
  errors.add(error)
  if (error > 500 / clock.rate) late++

  player.render(frame, due)
  const { transport, position } = player
  const moves = transport.playing && player.moves
  outputs.send(player.universes, player.levels, due)
  if (framesWanted && news.isNews(player.piece, player.levels, position, moves, due)) {
    const bytes = encodeFrame({
      number: frame,
      position,
      due: due - player.lightOffset,
      playing: moves,
      universes: player.universes,
      levels: player.levels,
    })
    tell({ type: 'frame', frame: bytes }, [bytes.buffer as ArrayBuffer])
  }
  const tells = frame % Math.max(1, Math.round(clock.rate / TELL_HZ)) === 0
  if (tellSoon || tells) {
    beats.send({ player, frame, rate: clock.rate, due, lift, sends: !silent && output.routes.length > 0 })
    tellSoon = false
    status(due)
  }
  // One turn of the event loop a frame: sockets report, messages come in.
  setImmediate(oneFrame)
}

async function end(): Promise<void> {
  status(monotonicMs())
  await outputs.close()
  tell({ type: 'ended' })
  port.close()
}

// Before everything else on the machine where we are allowed to; on Linux that is this thread alone.
try {
  setPriority(0, constants.priority.PRIORITY_HIGH)
} catch {
  // Without the right to it the loop keeps the ordinary priority.
}
// Loaded before the first deadline: afterwards this thread turns its event loop only once a frame.
await loadDmxnet()
// Then it sleeps until it is first told something: a spare engine costs nothing while it waits.
port.once('message', (message: ToLoop) => {
  clock = frameClock(monotonicMs(), output.rate, 0)
  hear(message, 0)
  oneFrame()
})
tell({ type: 'ready' })
