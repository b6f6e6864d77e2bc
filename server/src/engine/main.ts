// The engine process: the engine behind its local pipe, with MIDI ports and node discovery.

import { networkInterfaces } from 'node:os'
import type { FromEngine, ToEngine } from '@glowchart/shared/messages.ts'
import type { LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import { noUnderstudy } from '@glowchart/shared/understudy/status.ts'
import { installationId } from '../app/installation.ts'
import { keepMidiChoice, keptMidiChoice } from '../midi/choice.ts'
import { startClockOut } from '../midi/clock-out.ts'
import { type MidiPorts, openMidi } from '../midi/ports.ts'
import { ARTNET_PORT } from '../output/artnet.ts'
import { type Discovery, openDiscovery } from '../output/discovery.ts'
import { mustFollow } from '../understudy/kept.ts'
import { openPartnership, type Partnership } from '../understudy/partner.ts'
import { createEngine } from './engine.ts'
import { monotonicMs } from './now.ts'
import { engineAddress, type Pipe, servePipe } from './pipe.ts'

/** A page's connection that is this far behind gets no frames until it has caught up. */
const MOST_WAITING = 1 << 20

const [dataFolder, clockTo] = process.argv.slice(2) as [string, string | undefined]
const clients = new Map<Pipe, { frames: boolean; watch: boolean }>()
/** Who asked: the engine's own request numbers, as two clients may use the same. */
const askers = new Map<number, { pipe: Pipe; id: number }>()
let nextId = 1

const forWatchers: ReadonlySet<FromEngine['type']> = new Set(['holding', 'changed', 'resume'])

function tell(message: FromEngine): void {
  if (message.type === 'holding' || message.type === 'changed') partnership?.changed()
  if (message.type === 'answer') {
    const asker = askers.get(message.id)
    askers.delete(message.id)
    return asker?.pipe.send({ ...message, id: asker.id })
  }
  for (const [pipe, wants] of clients) {
    if (message.type === 'frame' && (!wants.frames || pipe.waiting > MOST_WAITING)) continue
    if (forWatchers.has(message.type) && !wants.watch) continue
    pipe.send(message)
  }
}

let midi: MidiPorts | null = null
let discovery: Discovery | null = null
let partnership: Partnership | null = null
let clockOut: { close(): void } | null = null
const engine = await createEngine({
  cid: installationId(dataFolder),
  tell,
  midiStatus: () => midi?.status() ?? { available: false, ports: [], outputs: [], says: '' },
  keepMidi(choice) {
    takeClockTo(choice.clockTo)
    return keepMidiChoice(dataFolder, choice)
  },
  discover: wish => discovery?.ask(wish),
  artnetFault: () => discovery?.fault ?? '',
  understudy: () => partnership?.status ?? noUnderstudy,
})

/** MIDI clock goes to this port from now on; who followed at the old one is told to stop. */
function takeClockTo(port: string | null): void {
  clockOut?.close()
  clockOut = null
  midi?.sendTo(port)
  if (!midi || port === null) return
  const { send } = midi
  clockOut = startClockOut({ now: monotonicMs, motion: engine.motion, send })
}

function hear(message: ToEngine, pipe: Pipe): void {
  const wants = clients.get(pipe)
  if (!wants) return
  if (message.type === 'watch') {
    wants.watch = true
    const { holding, resume } = engine.held
    if (holding) pipe.send(holding)
    if (resume) pipe.send({ type: 'resume', state: resume })
    return
  }
  if (message.type === 'quit') return void quit()
  if (message.type === 'frames') {
    wants.frames = message.on
    return engine.handle({ type: 'frames', on: [...clients.values()].some(client => client.frames) })
  }
  if (message.type === 'understudy') {
    const { id } = message
    void partnership?.ask(message.understudy).then(problem => {
      pipe.send({ type: 'answer', id, ...(problem ? { problem } : {}) } satisfies FromEngine)
    })
    return
  }
  if ('id' in message) {
    const id = nextId++
    askers.set(id, { pipe, id: message.id })
    return engine.handle({ ...message, id })
  }
  engine.handle(message)
}

async function quit(): Promise<void> {
  partnership?.close()
  clockOut?.close()
  midi?.close()
  await Promise.all([engine.close(), discovery?.close()])
  process.exit(0)
}

// Whoever read what is printed may be gone: a closed window, a pipe that ended. That ends nobody.
for (const printed of [process.stdout, process.stderr]) printed.on('error', () => {})

// Ctrl-C reaches every process of the terminal; the supervisor tells this one when to end.
process.on('SIGINT', () => {})
process.on('SIGHUP', () => {})
process.once('SIGTERM', () => void quit())

/**
 * A spare engine waits, loaded, until the supervisor says "go", or "resume" when it will hand over another engine's
 * state; a supervisor that is gone needs no spare.
 */
async function told(): Promise<string> {
  const word = await new Promise<string>(resolve => {
    process.stdin.once('data', chunk => resolve(String(chunk).trim()))
    process.stdin.once('end', () => resolve(''))
  })
  if (word === '') process.exit(0)
  process.stdin.on('error', () => {})
  process.stdin.unref()
  return word
}

const word = await told()
engine.begin(word === 'resume', mustFollow(dataFolder))
const interfaces = (): LocalInterface[] =>
  Object.entries(networkInterfaces()).flatMap(([name, all = []]) =>
    all.filter(one => one.family === 'IPv4').map(({ address, netmask }) => ({ name, address, netmask })),
  )
partnership = openPartnership({
  dataFolder,
  pair: engine.pair,
  now: monotonicMs,
  interfaces,
  tellCode: code => tell({ type: 'code', code }),
})
await servePipe(engineAddress(dataFolder), {
  opened: pipe => clients.set(pipe, { frames: false, watch: false }),
  message: (message, pipe) => hear(message as ToEngine, pipe),
  closed: pipe => {
    clients.delete(pipe)
    engine.handle({ type: 'frames', on: [...clients.values()].some(client => client.frames) })
  },
})

// After the lights: ports may take their time.
midi = await openMidi({
  now: monotonicMs,
  hear: input => engine.handle({ type: 'midi', midi: input }),
})
const kept = await keptMidiChoice(dataFolder)
// What the command line names goes before what was chosen once.
const first = clockTo === undefined ? kept : { ...kept, clockTo }
engine.useMidi(first)
takeClockTo(first.clockTo)
/** Polls go only there: for networks that must not be asked as a whole, and for tests. "2.0.0.10:6454,…" */
const targets = process.env.GLOWCHART_ASK?.split(',').map(text => {
  const [address = '', port = ARTNET_PORT] = text.split(':')
  return { address, port: Number(port) }
})
discovery = await openDiscovery({
  interfaces,
  ...(targets ? { targets } : {}),
  clock: monotonicMs,
  onArtDmx: engine.artDmx,
  takes: engine.artnetPort,
  onNetwork: network => tell({ type: 'network', network }),
})
