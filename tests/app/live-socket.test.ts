// The live socket, over real sockets on loopback: edits, undo, what the engine says, and what cannot be read.

import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { problem } from '@glowchart/shared/errors.ts'
import { encodeFrame } from '@glowchart/shared/frame.ts'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import { afterChange } from '@glowchart/shared/show/change.ts'
import { applyDiff } from '@glowchart/shared/show/diff.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import WebSocket from 'ws'
import { sampleDocuments } from '../show/samples.ts'
import { type RunningApp, rename, runApp, until } from './running-app.ts'

let running: RunningApp
beforeEach(async () => {
  running = await runApp()
})
afterEach(() => running.close())

describe('an edit', () => {
  it('is on the disk and with every page when it is acknowledged', async () => {
    const [mine, theirs] = [await running.open('page-mine'), await running.open('page-theirs')]
    expect(mine.hello).toMatchObject({ you: 'page-mine', revision: 1, status: null, ...sampleDocuments() })
    expect(await mine.ask(rename('Kettle fog'))).toMatchObject({ type: 'done', revision: 2 })
    expect(running.titleOnDisk()).toBe('Kettle fog')
    // To its own page before the acknowledgement, so that the page never has to guess.
    expect(mine.messages.map(m => m.type).filter(t => t !== 'status' && t !== 'access')).toEqual([
      'hello',
      'version',
      'applied',
      'done',
    ])
    await until(() => theirs.messages.some(m => m.type === 'applied'))
    const applied = theirs.messages.find(m => m.type === 'applied') as Extract<
      AppMessage,
      { type: 'applied' }
    >
    expect(applied).toMatchObject({
      revision: 2,
      by: 'page-mine',
      edit: 'renameSong',
      says: 'Rename "Kettle weather"',
    })
    expect(applyDiff(theirs.hello.show, applied.diff)).toEqual(running.onDisk())
  })

  it('that cannot be is refused with its reason, and nobody hears of it', async () => {
    const mine = await running.open()
    const refused = await mine.ask({ type: 'edit', edit: 'renameSong', args: { song: 'kettle', title: '' } })
    expect(refused).toMatchObject({
      type: 'refused',
      problem: { code: 'edit.schema', where: 'renameSong: title' },
    })
    expect(await mine.ask({ type: 'edit', edit: 'sing', args: {} })).toMatchObject({
      problem: { code: 'edit.unknown' },
    })
    expect(mine.messages.filter(m => m.type === 'applied')).toEqual([])
  })

  it('reaches the engine as whole documents once, afterwards as what was changed', async () => {
    const mine = await running.open()
    running.engine.say({ type: 'up' })
    await until(() => running.engine.sent.some(m => m.type === 'load'))
    const first = { type: 'load', ...sampleDocuments(), revision: 1 }
    expect(running.engine.sent.find(m => m.type === 'load')).toEqual(first)
    running.engine.sent.length = 0
    await Promise.all(['a', 'b', 'c', 'd'].map(title => mine.ask(rename(title))))
    const changes = running.engine.sent.filter(m => m.type === 'change')
    expect(running.engine.sent).toEqual(changes)
    let held = sampleDocuments()
    let revision = 1
    for (const change of changes) {
      expect(change.from).toBe(revision)
      held = afterChange(held, change)
      revision = change.revision
    }
    expect(revision).toBe(5)
    expect(held.show.songs.kettle!.title).toBe('d')
  })

  it('reaches an engine that holds something else as whole documents again', async () => {
    const mine = await running.open()
    running.engine.say({ type: 'up' })
    await mine.ask(rename('Fog'))
    running.engine.sent.length = 0
    running.engine.say({ type: 'behind' })
    await until(() => running.engine.sent.some(m => m.type === 'load'))
    const load = running.engine.sent.find(m => m.type === 'load')!
    expect(load.revision).toBe(2)
    expect(load.show.songs.kettle!.title).toBe('Fog')
  })
})

describe('undo', () => {
  it('takes back one’s own edit, and does it again', async () => {
    const mine = await running.open()
    await mine.ask(rename('Fog'))
    expect(await mine.ask({ type: 'undo', revision: 2 })).toMatchObject({ type: 'done', revision: 3 })
    expect(running.titleOnDisk()).toBe('Kettle weather')
    expect(await mine.ask({ type: 'undo', revision: 3 })).toMatchObject({ type: 'done', revision: 4 })
    expect(running.titleOnDisk()).toBe('Fog')
  })

  it('is refused for another’s edit, for one that is not remembered, and for what has changed since', async () => {
    const [mine, theirs] = [await running.open('page-mine'), await running.open('page-theirs')]
    await mine.ask(rename('Fog'))
    expect(await theirs.ask({ type: 'undo', revision: 2 })).toMatchObject({
      problem: { code: 'edit.notYours' },
    })
    expect(await mine.ask({ type: 'undo', revision: 99 })).toMatchObject({
      problem: { code: 'edit.forgotten' },
    })
    await theirs.ask(rename('Mist'))
    const conflict = await mine.ask({ type: 'undo', revision: 2 })
    expect(conflict).toMatchObject({ problem: { code: 'edit.conflict', where: 'songs.kettle.title' } })
    expect(running.titleOnDisk()).toBe('Mist')
  })

  it('works after the page was away: it keeps its id', async () => {
    const first = await running.open('page-mine')
    await first.ask(rename('Fog'))
    first.close()
    const again = await running.open('page-mine')
    expect(await again.ask({ type: 'undo', revision: 2 })).toMatchObject({ type: 'done' })
  })
})

describe('the engine', () => {
  const frame = encodeFrame({
    number: 1,
    position: 2,
    due: 3,
    playing: true,
    universes: [1],
    levels: new Uint8Array(512),
  })

  it('is asked what a page presses, and its answer goes to that page', async () => {
    const mine = await running.open()
    expect(await mine.ask({ type: 'transport', transport: { do: 'play' } })).toEqual({ type: 'done', seq: 1 })
    running.engine.answer = problem('engine.noSong', 'no song', 'transport')
    const refused = await mine.ask({ type: 'live', live: { blackout: true } })
    expect(refused).toMatchObject({ type: 'refused', problem: { code: 'engine.noSong' } })
    expect(running.engine.asked).toEqual([
      { type: 'transport', transport: { do: 'play' } },
      { type: 'live', live: { blackout: true } },
    ])
  })

  it('sends frames to the pages that asked, and is asked for none when nobody looks', async () => {
    const [looking, other] = [await running.open('page-looks'), await running.open('page-other')]
    looking.send({ type: 'frames', on: true })
    await until(() => running.engine.sent.some(m => m.type === 'frames' && m.on))
    running.engine.say({ type: 'frame', frame })
    await until(() => looking.frames.length === 1)
    expect(new Uint8Array(looking.frames[0]!)).toEqual(frame)
    looking.close()
    await until(
      () =>
        running.engine.sent.at(-1)!.type === 'frames' && !(running.engine.sent.at(-1) as { on: boolean }).on,
    )
    expect(other.frames).toEqual([])
  })

  it('loses frames, not memory, on a page that does not read', async () => {
    const { socket, messages, frames } = await running.openRaw()
    socket.send(JSON.stringify({ type: 'frames', on: true }))
    await until(() => running.engine.sent.some(m => m.type === 'frames' && m.on))
    const big = encodeFrame({
      number: 1,
      position: 0,
      due: 0,
      playing: true,
      universes: Array.from({ length: 200 }, (_, i) => i + 1),
      levels: new Uint8Array(200 * 512),
    })
    socket.pause()
    const before = process.memoryUsage().external
    const count = 3000
    for (let i = 0; i < count; i++) {
      running.engine.say({ type: 'frame', frame: big })
      if (i % 100 === 0) await new Promise(resolve => setImmediate(resolve))
    }
    // 3000 frames of 100 kB are 300 MB; the sockets of the system hold a few.
    expect(process.memoryUsage().external - before).toBeLessThan(50e6)
    socket.resume()
    socket.send(JSON.stringify({ ...rename('Still here'), seq: 1 }))
    await until(() => messages.some(m => m.type === 'done'))
    expect(frames()).toBeGreaterThan(0)
    expect(frames()).toBeLessThan(count / 2)
    socket.terminate()
  })

  it('that is down is told about at least once a second, so that pages know their socket lives', async () => {
    const mine = await running.open()
    await until(() => mine.messages.filter(m => m.type === 'status' && m.status === null).length >= 2)
  })

  it('lights what any page wants to find, and no longer what a page that is gone wanted', async () => {
    const [mine, theirs] = [await running.open('page-mine'), await running.open('page-theirs')]
    const lit = () => (running.engine.asked.at(-1) as { live: { lit: string[] } }).live.lit
    await mine.ask({ type: 'live', live: { lit: ['tube-1'] } })
    await theirs.ask({ type: 'live', live: { lit: ['tube-2'] } })
    expect(lit()).toEqual(['tube-1', 'tube-2'])
    mine.close()
    await until(() => running.engine.asked.length === 3)
    expect(lit()).toEqual(['tube-2'])
    await theirs.ask({ type: 'live', live: { lit: [] } })
    expect(lit()).toEqual([])
  })

  it('that comes up hears what is lit now, which may be nothing any more', async () => {
    running.engine.say({ type: 'up' })
    await until(() => running.engine.asked.length === 1)
    expect(running.engine.asked).toEqual([{ type: 'live', live: { lit: [] } }])
  })

  it('hears no MIDI from the future, whatever a page’s clock says', async () => {
    const { socket } = await running.openRaw()
    for (const at of [1, 1e15]) {
      socket.send(JSON.stringify({ type: 'midi', midi: { port: 'Keys', at, bytes: [0xf8] } }))
    }
    const midi = () => running.engine.sent.filter(message => message.type === 'midi')
    await until(() => midi().length === 2)
    expect(midi()[0]).toMatchObject({ midi: { at: 1 } })
    expect(midi()[1]!.midi.at).toBeLessThanOrEqual(monotonicMs())
    socket.close()
  })

  it('gives its clock beside the page’s', async () => {
    const mine = await running.open()
    const before = Number(process.hrtime.bigint()) / 1e6
    mine.send({ type: 'clockPing', at: 17 })
    await until(() => mine.messages.some(m => m.type === 'clockPong'))
    const pong = mine.messages.find(m => m.type === 'clockPong') as Extract<AppMessage, { type: 'clockPong' }>
    expect(pong.at).toBe(17)
    expect(pong.engine).toBeGreaterThan(before - 1)
    expect(pong.engine).toBeLessThan(Number(process.hrtime.bigint()) / 1e6 + 1)
  })
})

it('a page that answers nothing any more does not keep the app from ending', async () => {
  const { socket } = await running.openRaw()
  socket.pause()
  const began = performance.now()
  await running.restart()
  expect(performance.now() - began).toBeLessThan(10_000)
  socket.terminate()
})

describe('what cannot be read', () => {
  it('is refused on the socket, by the number of the question where it has one; the socket stays', async () => {
    const { socket, messages } = await running.openRaw()
    for (const text of [
      '{"type":',
      '{"type":"edit","seq":7,"edit":5}',
      '[]',
      JSON.stringify({ ...rename('On'), seq: 8 }),
    ]) {
      socket.send(text)
    }
    socket.send(Buffer.from([1, 2, 3]))
    await until(
      () => messages.some(m => m.type === 'done') && messages.filter(m => m.type === 'refused').length === 4,
    )
    const refused = messages.filter(m => m.type === 'refused')
    expect(refused.map(m => m.seq)).toEqual([-1, 7, -1, -1])
    expect(refused.map(m => m.problem.code)).toEqual(Array(4).fill('message.schema'))
    expect(refused[1]!.problem.where).toBe('edit')
    socket.terminate()
  })

  it('for its size ends the socket, and only that', async () => {
    const socket = new WebSocket(`${running.url.replace('http', 'ws')}/live`)
    const closed = new Promise<number>(resolve => socket.once('close', resolve))
    socket.on('error', () => {})
    socket.once('open', () => socket.send('x'.repeat(4 * 1024 * 1024 + 1)))
    // RFC 6455 7.4.1: 1009, message too big.
    expect(await closed).toBe(1009)
    expect((await fetch(`${running.url}/api/status`)).status).toBe(200)
  })
})
