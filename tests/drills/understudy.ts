// The drill of the second laptop: the first one dies in mid-song, the second goes on, and later gives back.

import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { ticksAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { seconds } from '@glowchart/shared/time/units.ts'
import { ip, lacksNamespaces } from '../support/namespaces.ts'
import { levelsOnDisk, showOnDisk } from '../support/song-levels.ts'
import { type Hosted, type Hosts, makeThreeHosts, runIn } from '../support/three-hosts.ts'
import type { Drill, Figure } from './drill.ts'
import { Laptop, type Seen } from './laptop.ts'

const script = (name: string): string => fileURLToPath(new URL(name, import.meta.url))
const RATE = 40
const PERIOD = 1000 / RATE
/** A frame is right when it is due within so many ms of when it stands. */
const NEAR = 60
/** How long they play together first, ms: the quickest heartbeat tells the grid, and on a busy machine it takes a while to come. */
const SETTLES = 4000
const SONG = 'porchlight'
const TITLE = 'Porchlight Arithmetic'

/** What one port of the node saw of one change of hands. */
interface Passage {
  /** From the last right frame before to the first right one after, ms. */
  readonly gap: number
  readonly framesLost: number
  /** How long other levels than the song's stood meanwhile, ms. */
  readonly wrong: number
  /** How far the song is from where it would have been, ms. */
  readonly positionError: number
}

interface Passages {
  readonly sacn: Passage
  readonly artnet: Passage
}

export interface UnderstudyDrill {
  how: 'killed' | 'unplugged'
  /** Whether the light goes back to the first laptop afterwards. */
  andBack: boolean
  /** Given a file, tshark writes there what the node gets. */
  capture?: string
}

const SECOND =
  'our own: right light within 1 s; alone it would be 2.5 s (E1.31-2018 6.7.1) and 10 s (Art-Net 4, merging)'
const NO_JUMP = 'our own: one frame, and as long as the machine let the node itself wait'

function figuresOf(what: string, { sacn, artnet }: Passages, stall: number, gap: number): Figure[] {
  return (
    [
      ['sACN', sacn],
      ['Art-Net', artnet],
    ] as const
  ).flatMap(([port, passage]): Figure[] => [
    {
      what: `${what}, ${port}: gap in right light`,
      value: passage.gap,
      unit: 'ms',
      limit: { atMost: gap + stall },
      source: SECOND,
    },
    { what: `${what}, ${port}: frames lost`, value: passage.framesLost, unit: '', limit: 'tells' },
    { what: `${what}, ${port}: wrong levels stood for`, value: passage.wrong, unit: 'ms', limit: 'tells' },
    {
      what: `${what}, ${port}: position error`,
      value: Math.abs(passage.positionError),
      unit: 'ms',
      limit: { atMost: PERIOD + stall },
      source: NO_JUMP,
    },
  ])
}

export const firstKilled: Drill = {
  name: 'first-killed',
  title:
    'All processes of the first laptop are killed in mid-song: the understudy goes on, and later gives back',
  lacks: lacksNamespaces,
  run: ({ short }) => drillUnderstudy({ how: 'killed', andBack: !short }),
}

export const firstUnplugged: Drill = {
  name: 'first-unplugged',
  title: 'The first laptop’s cable is pulled in mid-song: the understudy goes on, and later gives back',
  lacks: lacksNamespaces,
  run: ({ short }) => drillUnderstudy({ how: 'unplugged', andBack: !short }),
}

/** Needs root on Linux, for namespaces. */
export async function drillUnderstudy({ how, andBack, capture }: UnderstudyDrill): Promise<Figure[]> {
  const hosts = makeThreeHosts()
  const first = new Laptop(hosts.first)
  const second = new Laptop(hosts.second)
  const node = runIn(hosts.node, ['--import', 'tsx', script('node-host.ts'), '1', '1'])
  const shark = capture === undefined ? null : captureAt(hosts, capture)
  try {
    await Promise.all([node.next(line => line.ready), first.start(), second.start(), shark?.ready])
    const levels = frameNumbers(first.data)
    await first.ask({ type: 'output', output: output() })
    await pairUp(first, second)
    const at = liveliest(levels, first.data)
    await first.ask({ type: 'transport', transport: { do: 'song', song: SONG, at } })
    await first.ask({ type: 'transport', transport: { do: 'play' } })
    const inStep = (seen: Seen): boolean =>
      seen.understudy.compared?.state === 'step' && seen.understudy.partner?.ready === true
    await second.until(seen => seen.playing && seen.position > at + 2000 && inStep(seen), 'play in step')
    await report(node)
    const before = await pause(SETTLES).then(() => report(node))

    const lostAt = monotonicMs()
    if (how === 'killed') first.kill()
    else ip('-n', hosts.first, 'link', 'set', 'lan', 'down')
    const took = await second.until(seen => seen.understudy.state === 'leads', 'lead')
    await pause(1500)
    const after = await report(node)
    const passages = (from: Report, to: Report, at: number) => ({
      sacn: passage(levels, from.sacn, to.sacn, at),
      artnet: passage(levels, from.artnet, to.artnet, at),
    })
    const lost = figuresOf('lost', passages(before, after, lostAt), Math.max(before.stall, after.stall), 1000)
    const trip: Figure = {
      what: 'there and back between the laptops',
      value: took.understudy.trip ?? 0,
      unit: 'ms',
      limit: 'tells',
    }
    if (!andBack) return [...lost, trip]

    if (how === 'killed') await first.start()
    else ip('-n', hosts.first, 'link', 'set', 'lan', 'up')
    await first.until(seen => seen.understudy.state === 'follows' && inStep(seen), 'follow')
    await second.ask({ type: 'transport', transport: { do: 'locate', at } })
    await first.until(seen => seen.playing && seen.position < at + 4000 && inStep(seen), 'be in step')
    await report(node)
    const beforeBack = await pause(SETTLES).then(() => report(node))
    const backAt = monotonicMs()
    await second.ask({ type: 'understudy', understudy: { do: 'handOver' } })
    await first.until(seen => seen.understudy.state === 'leads' && seen.outputs > 0, 'lead again')
    await second.until(seen => seen.understudy.state === 'follows' && inStep(seen), 'follow again')
    await pause(2500)
    const afterBack = await report(node)
    await first.until(
      seen => seen.understudy.well === 'good' && seen.understudy.partner?.ready === true,
      'have its understudy again',
    )
    const stall = Math.max(beforeBack.stall, afterBack.stall)
    const back = figuresOf('given back', passages(beforeBack, afterBack, backAt), stall, 100)
    return [...lost, ...back, trip]
  } finally {
    await shark?.stop()
    node.end()
    await Promise.all([first.end(), second.end()])
    hosts.remove()
  }
}

const output = () => ({
  rate: RATE,
  sync: false,
  sourceName: 'Drill',
  routes: [
    {
      universe: 1,
      to: {
        protocol: 'sacn',
        host: '10.78.0.3',
        port: 5568,
        wireUniverse: 1,
        priority: 100,
        preview: false,
        mode: 'every',
      },
    },
    {
      universe: 1,
      via: undefined,
      to: { protocol: 'artnet', host: '10.78.0.3', port: 6454, portAddress: 1, mode: 'every' },
    },
  ],
})

async function pairUp(first: Laptop, second: Laptop): Promise<void> {
  const shown = first.code()
  await first.ask({ type: 'understudy', understudy: { do: 'allow', on: true, via: '10.78.0.1' } })
  const code = await shown
  await second.ask({ type: 'understudy', understudy: { do: 'search', on: true } })
  const { understudy } = await second.until(seen => (seen.understudy.found?.length ?? 0) > 0, 'find')
  const { address, port } = understudy.found![0]!
  await second.ask({ type: 'understudy', understudy: { do: 'follow', address, port, code } })
  await second.until(seen => seen.understudy.state === 'follows', 'follow')
}

interface Put {
  at: number
  levels: string
}
interface Report {
  sacn: Put[]
  artnet: Put[]
  stall: number
}

const report = (node: Hosted): Promise<Report> => {
  const told = node.next(line => (line.sacn ? (line as unknown as Report) : null))
  node.say('report')
  return told
}

const pause = (ms: number): Promise<void> => new Promise(resolve => setTimeout(resolve, ms))

/** The song's frames by what universe 1 looks like in them. */
function frameNumbers(data: string): Map<string, number[]> {
  const { frames, levels } = levelsOnDisk(data, TITLE)
  const size = levels.length / frames
  const numbers = new Map<string, number[]>()
  for (let n = 0; n < frames; n++) {
    const key = createHash('sha256')
      .update(levels.subarray(n * size, n * size + 512))
      .digest('hex')
      .slice(0, 16)
    numbers.set(key, [...(numbers.get(key) ?? []), n])
  }
  return numbers
}

/** Where most frames of the next 12 s look like no other, ticks. */
function liveliest(levels: Map<string, number[]>, data: string): number {
  const single = [...levels.values()].flatMap(numbers => (numbers.length === 1 ? numbers : []))
  const reach = 12 * RATE
  const many = (from: number): number => single.filter(n => n >= from && n < from + reach).length
  const best = single.reduce((a, b) => (many(b) > many(a) ? b : a), 0)
  return Math.round(ticksAt(timelineOf(showOnDisk(data).songs[SONG]!).tempo, seconds(best / RATE)))
}

/** When the song's frame 0 would have stood, by frames that look like no other. */
function originOf(levels: Map<string, number[]>, puts: readonly Put[]): number {
  const origins = puts.flatMap(({ at, levels: key }) => {
    const numbers = levels.get(key)
    return numbers?.length === 1 ? [at - numbers[0]! * PERIOD] : []
  })
  if (origins.length < 10) throw new Error(`only ${origins.length} frames of the song were seen`)
  // The quickest were delayed least; the very first may be an accident.
  return origins.sort((a, b) => a - b)[Math.floor(origins.length / 20)]!
}

function passage(levels: Map<string, number[]>, before: Put[], after: Put[], at: number): Passage {
  const origin = originOf(levels, before)
  /** The song's frame that stands, when it is the right one at its time. */
  const frameOf = ({ at, levels: key }: Put): number | null => {
    const due = (at - origin) / PERIOD
    const near = (levels.get(key) ?? []).filter(n => Math.abs(n - due) * PERIOD <= NEAR)
    return near.length === 0 ? null : near.reduce((a, b) => (Math.abs(a - due) < Math.abs(b - due) ? a : b))
  }
  const all = [...before, ...after].map(put => ({ ...put, frame: frameOf(put) }))
  let gap = 0
  let framesLost = 0
  let wrong = 0
  let last = all[0]!
  for (const [i, put] of all.entries()) {
    const next = all[i + 1]
    if (put.frame === null) wrong += (next?.at ?? put.at) - put.at
    else {
      if (put.at > at - 100) {
        gap = Math.max(gap, put.at - last.at)
        framesLost += Math.max(0, put.frame - last.frame! - 1)
      }
      last = put
    }
  }
  // Right light that never came is the longest gap of all.
  gap = Math.max(gap, all.at(-1)!.at - last.at)
  const later = after.filter(put => put.at > at + 1000)
  const positionError = originOf(levels, later) - origin
  const round = (n: number): number => Math.round(n * 10) / 10
  return { gap: round(gap), framesLost, wrong: round(wrong), positionError: round(positionError) }
}

function captureAt(hosts: Hosts, file: string): { ready: Promise<unknown>; stop(): Promise<void> } {
  const words = [
    'netns',
    'exec',
    hosts.node,
    'tshark',
    '-i',
    'lan',
    '-w',
    file,
    '-f',
    'udp port 6454 or udp port 5568 or udp port 21907',
  ]
  const child = spawn('ip', words, { stdio: ['ignore', 'ignore', 'pipe'] })
  const ready = new Promise<void>(resolve => {
    child.stderr.on('data', chunk => {
      if (/Capturing on/.test(String(chunk))) resolve()
    })
  })
  return {
    ready,
    async stop() {
      if (child.exitCode !== null) return
      child.kill('SIGINT')
      await once(child, 'exit')
    },
  }
}
