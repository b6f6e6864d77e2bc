// The processes under fire: kill -9 the app, the engine, the supervisor, while a receiver on loopback counts the light.

import { createSocket, type Socket } from 'node:dgram'
import { once } from 'node:events'
import { setTimeout as sleep } from 'node:timers/promises'
import { decodeE131, isOutOfOrder } from '@glowchart/server/output/e131.ts'
import { secondsAt, ticksAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { seconds, ticks } from '@glowchart/shared/time/units.ts'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { processesOf, type Served, serveDemo } from '../support/processes.ts'

interface Heard {
  at: number
  sequence: number
  levels: string
}

let served: Served
let page: PageSocket
let socket: Socket
const heard: Heard[] = []

// One server for all: each test takes it as the one before left it, recovered.
beforeAll(async () => {
  socket = createSocket('udp4')
  socket.bind(0, '127.0.0.1')
  await once(socket, 'listening')
  socket.on('message', bytes => {
    const packet = decodeE131(bytes)
    if (packet?.kind !== 'data' || packet.terminated) return
    heard.push({
      at: performance.now(),
      sequence: packet.sequence,
      levels: Buffer.from(packet.slots).toString('hex'),
    })
  })
  served = await serveDemo()
  page = await openPage(served.url)
  await page.status(status => status.song !== null)
  const to = {
    protocol: 'sacn' as const,
    host: '127.0.0.1',
    port: socket.address().port,
    wireUniverse: 1,
    priority: 100,
    preview: false,
    mode: 'every' as const,
  }
  const set = await page.ask({
    type: 'output',
    output: { rate: 40, sync: false, sourceName: 'Test', routes: [{ universe: 1, to }] },
  })
  expect(set.type).toBe('done')
})

beforeEach(async () => {
  const { playing } = await page.status(() => true)
  if (!playing) expect((await page.ask({ type: 'transport', transport: { do: 'play' } })).type).toBe('done')
  await packetsAfter(heard.length, 40)
})

afterAll(async () => {
  page.close()
  await served.close()
  socket.close()
})

/** Resolves when `count` packets have come since packet `from`. */
async function packetsAfter(from: number, count: number): Promise<void> {
  while (heard.length < from + count) await once(socket, 'message')
}

const kill = (pid: number): void => void process.kill(pid, 'SIGKILL')
const gaps = (packets: Heard[]): number[] =>
  packets.slice(1).map((packet, i) => (packet.sequence - packets[i]!.sequence + 256) % 256)

describe.skipIf(process.platform === 'win32')('kill -9', () => {
  it('of the app: not one frame is missing, and the page finds everything again', async () => {
    const before = heard.length
    // Nobody reads any more what is printed, as when a window was closed.
    served.child.stdout!.destroy()
    served.child.stderr!.destroy()
    kill(processesOf(served).app)
    await packetsAfter(before, 120)
    expect(new Set(gaps(heard.slice(before - 10)))).toEqual(new Set([1]))
    let again: PageSocket | null = null
    while (!again) again = await openPage(served.url).catch(() => sleep(50).then(() => null))
    expect(again.hello.show.name).toBe(page.hello.show.name)
    expect((await again.status(status => status.playing)).song).toBe(page.hello.show.songOrder[0])
    page.close()
    page = again
  })

  it('of the engine: frames again within a second, where they would have been, and a receiver takes the first', async () => {
    await page.ask({ type: 'transport', transport: { do: 'locate', at: 28 * 3840 } })
    const status = await page.status(one => one.playing && one.position > 28 * 3840 + 960)
    const song = timelineOf(page.hello.show.songs[status.song!]!)
    const before = heard.length
    const fromNew = page.status(one => one.pid !== status.pid)
    const killed = performance.now()
    kill(processesOf(served).engine)
    // Packets already in the socket's buffer count as before.
    const firstNew = async (): Promise<Heard> => {
      for (;;) {
        const found = heard.findIndex((packet, i) => i >= before && packet.at - heard[i - 1]!.at > 60)
        if (found > 0) return heard[found]!
        await once(socket, 'message')
      }
    }
    const first = await firstNew()
    const last = heard[heard.indexOf(first) - 1]!
    const gap = first.at - last.at
    console.log(
      `engine killed: frames again after ${Math.round(first.at - killed)} ms, gap ${Math.round(gap)} ms`,
    )
    expect(first.at - killed).toBeLessThan(1000)
    // E1.31-2018 6.7.2: dropped when -20 < int8(new - last) <= 0.
    expect(isOutOfOrder(first.sequence, last.sequence)).toBe(false)
    // The very first word of the new engine: it never shows the song anywhere else.
    const later = await fromNew
    const expected = ticksAt(
      song.tempo,
      seconds(secondsAt(song.tempo, ticks(status.position)) + (later.at - status.at) / 1000),
    )
    // Both are frames of one grid: the same place to a rounding error.
    expect(Math.abs(later.position - expected)).toBeLessThan(0.001)
  })

  it('of an engine that was told what edits changed: the next one, given the whole, sends the same', async () => {
    const { show } = page.hello
    const song = show.songOrder[0]!
    const { sections, length } = timelineOf(show.songs[song]!)
    await page.ask({ type: 'transport', transport: { do: 'stop' } })
    const lit = async (): Promise<string> => {
      await packetsAfter(heard.length, 8)
      return heard.at(-1)!.levels
    }
    // Somewhere in the song, the middle of a cue without which the stage looks another way.
    let edited = 0
    for (const { id, start } of sections) {
      const [cue, { at, length: lasts }] = Object.entries(show.songs[song]!.sections[id]!.cues)[0] ?? [
        '',
        { at: 0, length: 0 },
      ]
      if (cue === '' || start + at + lasts / 2 >= length) continue
      await page.ask({ type: 'transport', transport: { do: 'locate', at: start + at + lasts / 2 } })
      const before = await lit()
      const done = await page.ask({
        type: 'edit',
        edit: 'deleteCues',
        args: { song, cues: [{ section: id, cue }] },
      })
      if (done.type !== 'done') throw new Error(JSON.stringify(done))
      const { pid } = await page.status(status => status.revision === done.revision)
      const after = await lit()
      if (after === before) continue
      edited++
      kill(processesOf(served).engine)
      await page.status(status => status.pid !== pid && status.revision === done.revision)
      expect(await lit()).toBe(after)
      if (edited === 2) return
    }
    throw new Error(`only ${edited} cues were seen to go`)
  })

  it('of the supervisor: the lights go on, and the next serve takes the engine over as it plays', async () => {
    const { engine } = processesOf(served)
    const before = heard.length
    kill(served.child.pid!)
    await packetsAfter(before, 40)
    expect(new Set(gaps(heard.slice(before - 10)))).toEqual(new Set([1]))
    const next = await serveDemo(['--data', served.data])
    const second = await openPage(next.url)
    const status = await second.status(one => one.playing)
    expect(status.pid).toBe(engine)
    expect(new Set(gaps(heard.slice(before - 10)))).toEqual(new Set([1]))
    second.close()
    served.close = async () => {
      await next.close()
    }
  })
})
