// Edit before doors, with the real processes and a receiver on loopback: while a version runs, no edit reaches a light.

import { createSocket, type Socket } from 'node:dgram'
import { once } from 'node:events'
import { setTimeout as sleep } from 'node:timers/promises'
import { decodeE131 } from '@glowchart/server/output/e131.ts'
import type { EngineStatus } from '@glowchart/shared/messages.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { VersionRequest } from '@glowchart/shared/version/request.ts'
import type { Take } from '@glowchart/shared/version/take.ts'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { processesOf, type Served, serveDemo } from '../support/processes.ts'

interface Heard {
  sequence: number
  levels: string
}

let served: Served
let page: PageSocket
let socket: Socket
const heard: Heard[] = []

beforeAll(async () => {
  socket = createSocket('udp4')
  socket.bind(0, '127.0.0.1')
  await once(socket, 'listening')
  socket.on('message', bytes => {
    const packet = decodeE131(bytes)
    if (packet?.kind !== 'data' || packet.terminated) return
    heard.push({ sequence: packet.sequence, levels: Buffer.from(packet.slots).toString('hex') })
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
  await done({
    type: 'output',
    output: { rate: 40, sync: false, sourceName: 'Test', routes: [{ universe: 1, to }] },
  })
  await packets(8)
})

afterAll(async () => {
  page.close()
  await served.close()
  socket.close()
})

async function done(message: Parameters<PageSocket['ask']>[0]): Promise<number | undefined> {
  const answer = await page.ask(message)
  if (answer.type !== 'done') throw new Error(JSON.stringify(answer))
  return answer.revision
}
const press = (transport: Extract<Parameters<PageSocket['ask']>[0], { type: 'transport' }>['transport']) =>
  done({ type: 'transport', transport })
const version = (request: VersionRequest) => done({ type: 'version', version: request })
async function publish(take: Take = 'all'): Promise<void> {
  await version({ do: 'check', take })
  const checked = page.messages.findLast(m => m.type === 'checked')!
  await version({ do: 'publish', take, hash: checked.checked.hash, despite: true })
}
const running = () => page.messages.findLast(m => m.type === 'version')!.running!
const playsVersion = (status: EngineStatus) => status.version === running().hash

/** Resolves with that many packets from now on. */
async function packets(count: number): Promise<Heard[]> {
  const from = heard.length
  while (heard.length < from + count) await once(socket, 'message')
  return heard.slice(from, from + count)
}
/** What the next packets but those under way have, all of them. */
async function lit(count = 12): Promise<string[]> {
  await packets(3)
  return [...new Set((await packets(count)).map(({ levels }) => levels))]
}
const gaps = (all: readonly Heard[]): number[] => [
  ...new Set(all.slice(1).map((packet, i) => (packet.sequence - all[i]!.sequence + 256) % 256)),
]

/** The cues of a song, with the tick in the middle of each. */
function* cuesOf(show: Show, song: string) {
  const { sections, length } = timelineOf(show.songs[song]!)
  for (const { id: section, start } of sections) {
    for (const [cue, { at, length: lasts }] of Object.entries(show.songs[song]!.sections[section]!.cues)) {
      const middle = start + at + lasts / 2
      if (middle < length) yield { section, cue, middle }
    }
  }
}

describe('edit before doors', () => {
  it('reaches no light until it is taken in, with no packet lost, and goes back to the same bytes', async () => {
    const { show } = page.hello
    const song = show.songOrder[0]!
    // Found in rehearsal: a cue without which the stage looks another way.
    let found: { section: string; cue: string; before: string[]; after: string[] } | null = null
    for (const { section, cue, middle } of cuesOf(show, song)) {
      await press({ do: 'locate', at: middle })
      const before = await lit(3)
      const revision = await done({
        type: 'edit',
        edit: 'deleteCues',
        args: { song, cues: [{ section, cue }] },
      })
      const after = await lit(3)
      await done({ type: 'undo', revision: revision! })
      if (before.length === 1 && after.length === 1 && before[0] !== after[0]) {
        found = { section, cue, before, after }
        break
      }
    }
    const { section, cue, before, after } = found!
    expect(await lit(3)).toEqual(before)

    const from = heard.length
    await publish()
    await page.status(playsVersion)
    expect(await lit()).toEqual(before)
    await done({ type: 'edit', edit: 'deleteCues', args: { song, cues: [{ section, cue }] } })
    await done({ type: 'edit', edit: 'renameShow', args: { name: 'Another name' } })
    expect(await lit(40)).toEqual(before)

    await publish({ songs: [song], groups: [] })
    await page.status(playsVersion)
    expect(await lit()).toEqual(after)
    expect(running().show.name).toBe(show.name)

    await version({ do: 'run', number: 1, from: 2 })
    await page.status(playsVersion)
    expect(await lit()).toEqual(before)

    await version({ do: 'end', from: 1 })
    await page.status(status => status.version === null)
    expect(await lit()).toEqual(after)
    expect(gaps(heard.slice(from))).toEqual([1])
  })

  it.skipIf(process.platform === 'win32')(
    'outlives the app: it comes back with the same version, and the engine is not disturbed while it plays',
    async () => {
      const { show } = page.hello
      const song = show.songOrder[0]!
      await publish()
      const { hash, number } = running()
      await page.status(playsVersion)
      await done({ type: 'edit', edit: 'renameSong', args: { song, title: 'Draft title' } })
      await press({ do: 'play' })
      const { pid, position } = await page.status(status => status.playing)
      const from = heard.length
      process.kill(processesOf(served).app, 'SIGKILL')
      await packets(40)
      let again: PageSocket | null = null
      while (!again) again = await openPage(served.url).catch(() => sleep(50).then(() => null))
      const status = await again.status(one => one.playing && one.position > position + 960)
      expect([status.version, status.pid]).toEqual([hash, pid])
      expect(again.messages.find(m => m.type === 'version')!.running).toMatchObject({ number, hash })
      expect(again.hello.show.songs[song]!.title).toBe('Draft title')
      expect(gaps(heard.slice(from))).toEqual([1])

      // An engine that dies meanwhile comes back with the version too, and not with the draft.
      process.kill(processesOf(served).engine, 'SIGKILL')
      const next = await again.status(one => one.pid !== pid && one.playing)
      expect(next.version).toBe(hash)
      again.close()
    },
  )
})
