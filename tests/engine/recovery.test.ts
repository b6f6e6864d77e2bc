// The laptop dies: every process is killed at once, started again, and one press brings back what was there; not before.

import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import { eveningOf } from '@glowchart/shared/night/evening.ts'
import type { NightEvent } from '@glowchart/shared/night/event.ts'
import type { Offer } from '@glowchart/shared/recovery/kept.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Inbox, openInbox } from '../support/inbox.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { killAll, type Served, serveDemo, tempFolder } from '../support/processes.ts'

let folder: ReturnType<typeof tempFolder>
let served: Served
let page: PageSocket
let inbox: Inbox

beforeEach(async () => {
  folder = tempFolder()
  inbox = await openInbox()
  served = await serveDemo([], {}, folder)
  page = await openPage(served.url)
})
afterEach(async () => {
  page.close()
  await served.close()
  await inbox.close()
})

async function startAgain(): Promise<void> {
  page.close()
  served = await serveDemo([], {}, folder)
  page = await openPage(served.url)
  await page.status(status => status.song !== null)
}

/** What a page that came just now is offered; null when nothing is, by the time ten statuses have come. */
async function offered(): Promise<Offer | null> {
  const last = (): Extract<AppMessage, { type: 'offer' }> | undefined =>
    page.messages.findLast(message => message.type === 'offer')
  for (let i = 0; i < 10 && !last(); i++) await page.status(() => true)
  return last()?.offer ?? null
}

const route = () => ({
  universe: 1,
  to: {
    protocol: 'sacn' as const,
    host: '127.0.0.1',
    port: inbox.port,
    wireUniverse: 3,
    priority: 120,
    preview: false,
    mode: 'every' as const,
  },
})
const output = () => ({ rate: 30, sync: false as const, sourceName: 'Van', routes: [route()] })
const press = async (transport: object) =>
  expect(await page.ask({ type: 'transport', transport: transport as never })).toMatchObject({ type: 'done' })

const left = () => JSON.parse(readFileSync(join(folder.path, 'left.json'), 'utf8'))

async function playToBar33(): Promise<{ song: string; from: number }> {
  const { show } = page.hello
  const song = show.songOrder[1]!
  const from = barStart(timelineOf(show.songs[song]!).meters, 32)
  await press({ do: 'song', song, at: from, place: 1 })
  expect(await page.ask({ type: 'output', output: output() })).toMatchObject({ type: 'done' })
  await page.ask({ type: 'live', live: { grand: 0.75 } })
  await press({ do: 'play' })
  await inbox.until(10)
  return { song, from }
}

describe.skipIf(process.platform === 'win32')('after everything was killed -9', () => {
  it('one press brings back song, place, kit, masters and way out; stopped, and nothing is sent before it', async () => {
    await page.ask({ type: 'edit', edit: 'chooseKit', args: { kit: 'fly' } })
    const { song, from } = await playToBar33()
    // At most a second lies between what happens and what is kept of it.
    while (!existsSync(join(folder.path, 'left.json')) || !(left().position > from))
      await page.status(() => true)
    const last = (await page.status(() => true)).position
    await killAll(served)
    const before = inbox.packets.length
    await startAgain()

    const offer = await offered()
    const title = page.hello.show.songs[song]!.title
    expect(offer).toMatchObject({ gone: [], otherShow: false, otherKit: false, otherVersion: false })
    expect(offer!.kept).toMatchObject({
      song: { id: song, title },
      bar: 33,
      kit: { id: 'fly' },
      playing: true,
    })
    const fresh = await page.status(() => true)
    expect([fresh.outputs, fresh.playing, fresh.position]).toEqual([[], false, 0])
    expect(inbox.packets.length).toBe(before)

    expect(await page.ask({ type: 'recover', answer: 'goOn' })).toMatchObject({ type: 'done' })
    const back = await page.status(status => status.outputs.length > 0)
    expect(back).toMatchObject({ song, playing: false, place: 1, live: { grand: 0.75 } })
    expect(back.frames.rate).toBe(30)
    expect(back.outputs[0]!.route).toEqual(route())
    expect(page.hello.show.tonight).toBe('fly')
    expect(back.position).toBe(offer!.kept.position)
    // A second and a little of 120 BPM, and it never claims to have been further than it was.
    expect(last - back.position).toBeLessThan(2 * 2 * 960)
    expect(back.position).toBeGreaterThanOrEqual(from)
    await inbox.until(before + 5)
    // Played on by a second press, from there.
    await press({ do: 'play' })
    await page.status(status => status.playing && status.position > back.position)

    // The log of the night knows all of it, though app and engine were dead meanwhile.
    const offset = -new Date().getTimezoneOffset()
    const night = await fetch(`${served.url}/api/nights/${eveningOf(Date.now(), offset)}`)
    const { events } = (await night.json()) as { events: NightEvent[] }
    const lines = events.map(event => event.says)
    expect(lines.filter(line => line === 'Glowchart starts.').length).toBe(2)
    expect(lines).toContain('The show goes on from where it was left.')
    expect(lines).toContain(`${title} goes on from bar 33.`)
    expect(lines.filter(line => line.startsWith('The output is on')).length).toBe(2)
  })
})
