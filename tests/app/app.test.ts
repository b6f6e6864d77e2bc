// The app over real sockets on loopback: edits, undo, frames, import and export, and who is refused.

import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { join } from 'node:path'
import type { EngineLink } from '@glowchart/server/app/engine-link.ts'
import { startApp } from '@glowchart/server/app/start.ts'
import { problem } from '@glowchart/shared/errors.ts'
import { encodeFrame } from '@glowchart/shared/frame.ts'
import type { AppMessage, FromEngine, ToEngine } from '@glowchart/shared/messages.ts'
import { bundleText } from '@glowchart/shared/show/bundle.ts'
import { applyDiff } from '@glowchart/shared/show/diff.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import WebSocket from 'ws'
import { damaged } from '../show/damaged.ts'
import { sampleDocuments } from '../show/samples.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { tempFolder } from '../support/processes.ts'

/** The engine's end of the link, in the hands of the test: what comes over the pipe is tested with the engine. */
class Engine implements EngineLink {
  readonly sent: ToEngine[] = []
  readonly asked: unknown[] = []
  answer: ReturnType<typeof problem> | undefined
  private readonly listeners = new Set<Parameters<EngineLink['on']>[0]>()
  send(message: ToEngine) {
    this.sent.push(message)
  }
  async request(message: unknown) {
    this.asked.push(message)
    return this.answer
  }
  on(listener: Parameters<EngineLink['on']>[0]) {
    this.listeners.add(listener)
    return () => this.listeners.delete(listener)
  }
  say(message: FromEngine | { type: 'up' } | { type: 'down' }) {
    for (const listener of this.listeners) listener(message)
  }
  close() {}
}

let data: ReturnType<typeof tempFolder>
let page: ReturnType<typeof tempFolder>
let engine: Engine
let app: Awaited<ReturnType<typeof startApp>>
let pages: PageSocket[]

const start = () =>
  startApp({ dataFolder: data.path, port: 0, pageFolder: page.path, engine, first: sampleDocuments() })
const open = async (client?: string): Promise<PageSocket> => {
  const socket = await openPage(app.url, client)
  pages.push(socket)
  return socket
}
/** A socket without a page's manners. */
async function openRaw() {
  const socket = new WebSocket(`${app.url.replace('http', 'ws')}/live`)
  const messages: AppMessage[] = []
  let frames = 0
  socket.on('message', (bytes, isBinary) => {
    if (isBinary) frames++
    else messages.push(JSON.parse(String(bytes)))
  })
  await until(() => messages.some(m => m.type === 'hello'))
  return { socket, messages, frames: () => frames }
}
/** Resolves once `done` is true, looking after every message that comes in. */
async function until(done: () => boolean): Promise<void> {
  while (!done()) await new Promise(resolve => setImmediate(resolve))
}

beforeEach(async () => {
  data = tempFolder()
  page = tempFolder()
  writeFileSync(join(page.path, 'index.html'), '<title>the page</title>')
  engine = new Engine()
  pages = []
  app = await start()
})
afterEach(async () => {
  for (const socket of pages) socket.close()
  await app.close()
  data.remove()
  page.remove()
})

const rename = (title: string) => ({
  type: 'edit' as const,
  edit: 'renameSong',
  args: { song: 'kettle', title },
})
const onDisk = () => JSON.parse(readFileSync(join(data.path, 'shows/moth-cabinet.json'), 'utf8'))

describe('an edit', () => {
  it('is on the disk and with every page when it is acknowledged', async () => {
    const [mine, theirs] = [await open('page-mine'), await open('page-theirs')]
    expect(mine.hello).toMatchObject({ you: 'page-mine', revision: 1, status: null, ...sampleDocuments() })
    expect(await mine.ask(rename('Kettle fog'))).toMatchObject({ type: 'done', revision: 2 })
    expect(onDisk().songs.kettle.title).toBe('Kettle fog')
    // To its own page before the acknowledgement, so that the page never has to guess.
    expect(mine.messages.map(m => m.type).filter(t => t !== 'status')).toEqual(['hello', 'applied', 'done'])
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
    expect(applyDiff(theirs.hello.show, applied.diff)).toEqual(onDisk())
  })

  it('that cannot be is refused with its reason, and nobody hears of it', async () => {
    const mine = await open()
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

  it('reaches the engine as whole documents', async () => {
    const mine = await open()
    engine.say({ type: 'up' })
    await until(() => engine.sent.some(m => m.type === 'load'))
    expect(engine.sent.find(m => m.type === 'load')).toEqual({
      type: 'load',
      ...sampleDocuments(),
      revision: 1,
    })
    engine.sent.length = 0
    await Promise.all(['a', 'b', 'c', 'd'].map(title => mine.ask(rename(title))))
    await until(() => engine.sent.some(m => m.type === 'load' && m.revision === 5))
    const loads = engine.sent.filter(m => m.type === 'load')
    expect(loads.at(-1)!.show.songs.kettle!.title).toBe('d')
    expect(loads.length).toBeLessThanOrEqual(2)
  })
})

describe('undo', () => {
  it('takes back one’s own edit, and does it again', async () => {
    const mine = await open()
    await mine.ask(rename('Fog'))
    expect(await mine.ask({ type: 'undo', revision: 2 })).toMatchObject({ type: 'done', revision: 3 })
    expect(onDisk().songs.kettle.title).toBe('Kettle weather')
    expect(await mine.ask({ type: 'undo', revision: 3 })).toMatchObject({ type: 'done', revision: 4 })
    expect(onDisk().songs.kettle.title).toBe('Fog')
  })

  it('is refused for another’s edit, for one that is not remembered, and for what has changed since', async () => {
    const [mine, theirs] = [await open('page-mine'), await open('page-theirs')]
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
    expect(onDisk().songs.kettle.title).toBe('Mist')
  })

  it('works after the page was away: it keeps its id', async () => {
    const first = await open('page-mine')
    await first.ask(rename('Fog'))
    first.close()
    const again = await open('page-mine')
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
    const mine = await open()
    expect(await mine.ask({ type: 'transport', transport: { do: 'play' } })).toEqual({ type: 'done', seq: 1 })
    engine.answer = problem('engine.noSong', 'no song', 'transport')
    const refused = await mine.ask({ type: 'live', live: { blackout: true } })
    expect(refused).toMatchObject({ type: 'refused', problem: { code: 'engine.noSong' } })
    expect(engine.asked).toEqual([
      { type: 'transport', transport: { do: 'play' } },
      { type: 'live', live: { blackout: true } },
    ])
  })

  it('sends frames to the pages that asked, and is asked for none when nobody looks', async () => {
    const [looking, other] = [await open('page-looks'), await open('page-other')]
    looking.send({ type: 'frames', on: true })
    await until(() => engine.sent.some(m => m.type === 'frames' && m.on))
    engine.say({ type: 'frame', frame })
    await until(() => looking.frames.length === 1)
    expect(new Uint8Array(looking.frames[0]!)).toEqual(frame)
    looking.close()
    await until(() => engine.sent.at(-1)!.type === 'frames' && !(engine.sent.at(-1) as { on: boolean }).on)
    expect(other.frames).toEqual([])
  })

  it('loses frames, not memory, on a page that does not read', async () => {
    const { socket, messages, frames } = await openRaw()
    socket.send(JSON.stringify({ type: 'frames', on: true }))
    await until(() => engine.sent.some(m => m.type === 'frames' && m.on))
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
      engine.say({ type: 'frame', frame: big })
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
    const mine = await open()
    await until(() => mine.messages.filter(m => m.type === 'status' && m.status === null).length >= 2)
  })

  it('gives its clock beside the page’s', async () => {
    const mine = await open()
    const before = Number(process.hrtime.bigint()) / 1e6
    mine.send({ type: 'clockPing', at: 17 })
    await until(() => mine.messages.some(m => m.type === 'clockPong'))
    const pong = mine.messages.find(m => m.type === 'clockPong') as Extract<AppMessage, { type: 'clockPong' }>
    expect(pong.at).toBe(17)
    expect(pong.engine).toBeGreaterThan(before - 1)
    expect(pong.engine).toBeLessThan(Number(process.hrtime.bigint()) / 1e6 + 1)
  })
})

describe('what cannot be read', () => {
  it('is refused on the socket, by the number of the question where it has one; the socket stays', async () => {
    const { socket, messages } = await openRaw()
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
    const socket = new WebSocket(`${app.url.replace('http', 'ws')}/live`)
    const closed = new Promise<number>(resolve => socket.once('close', resolve))
    socket.on('error', () => {})
    socket.once('open', () => socket.send('x'.repeat(4 * 1024 * 1024 + 1)))
    // RFC 6455 7.4.1: 1009, message too big.
    expect(await closed).toBe(1009)
    expect((await fetch(`${app.url}/api/status`)).status).toBe(200)
  })
})

interface Answer {
  status: number
  headers: Record<string, unknown>
  body: string
}

/** A request with headers that `fetch` would not let through. */
function ask(path: string, headers: Record<string, string>, method = 'GET'): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const { port } = new URL(app.url)
    const sent = request({ host: '127.0.0.1', port, path, method, headers }, response => {
      let body = ''
      response.on('data', chunk => {
        body += chunk
      })
      response.on('end', () => resolve({ status: response.statusCode!, headers: response.headers, body }))
    })
    sent.on('error', reject)
    sent.end()
  })
}

describe('who may ask', () => {
  const port = () => new URL(app.url).port

  it('is a page of this server, by any of its names', async () => {
    for (const name of ['localhost', '127.0.0.1', '[::1]']) {
      const host = `${name}:${port()}`
      expect((await ask('/api/status', { host, origin: `http://${host}` })).status).toBe(200)
    }
  })

  it.each(['evil.example', 'localhost', 'localhost:1', '127.0.0.1.evil.example'])(
    'is nobody by the name %j',
    async host => {
      for (const path of ['/', '/api/status', '/api/export', '/nothing']) {
        const { status, body } = await ask(path, { host })
        expect(status).toBe(403)
        expect(JSON.parse(body)).toMatchObject({ code: 'request.host', where: 'Host' })
      }
    },
  )

  it.each(['http://evil.example', 'null', 'https://localhost', 'http://localhost:1'])(
    'is no page of %s, also on the socket',
    async origin => {
      const { status, body } = await ask('/api/status', { host: `localhost:${port()}`, origin })
      expect(status).toBe(403)
      expect(JSON.parse(body)).toMatchObject({ code: 'request.origin' })
      const socket = new WebSocket(`${app.url.replace('http', 'ws')}/live`, { origin })
      const refused = await new Promise(resolve => {
        socket.once('unexpected-response', (_request, response) => resolve(response.statusCode))
        socket.once('open', () => resolve('open'))
      })
      expect(refused).toBe(403)
    },
  )

  it('gets headers with every answer that keep the page from loading and being framed by others', async () => {
    for (const path of ['/', '/api/status', '/nothing']) {
      const { headers } = await ask(path, { host: `localhost:${port()}` })
      expect(headers['content-security-policy']).toMatch(/default-src 'self'.*frame-ancestors 'none'/)
      expect(headers['x-content-type-options']).toBe('nosniff')
      expect(headers['cross-origin-resource-policy']).toBe('same-origin')
    }
  })
})

/** Every file of the data folder with its bytes. */
const snapshot = (folder = data.path): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter(entry => entry.isFile())
      .map(entry => join(entry.parentPath, entry.name))
      .sort()
      .map(path => [path, readFileSync(path, 'utf8')]),
  )
const post = async (path: string, body?: string) => {
  const response = await fetch(`${app.url}${path}`, { method: 'POST', ...(body !== undefined && { body }) })
  return { status: response.status, ...((await response.json()) as Record<string, unknown>) }
}

describe('over HTTP', () => {
  it('the page is at /, and what is not there is said in words', async () => {
    expect(await (await fetch(`${app.url}/`)).text()).toBe('<title>the page</title>')
    const missing = await fetch(`${app.url}/nothing`)
    expect([missing.status, ((await missing.json()) as { code: string }).code]).toEqual([
      404,
      'request.unknown',
    ])
    expect((await ask('/../../etc/passwd', { host: new URL(app.url).host })).status).toBe(403)
  })

  it('a bundle goes out and comes in again as the same show', async () => {
    const exported = await fetch(`${app.url}/api/export`)
    expect(exported.headers.get('content-disposition')).toBe(
      'attachment; filename="moth-cabinet.glowchart.json"',
    )
    const text = await exported.text()
    expect(text).toBe(bundleText(sampleDocuments()))
    expect(await post('/api/import', text)).toMatchObject({ status: 200, show: 'moth-cabinet' })
  })

  it('a show of the same id that differs comes in only when asked to replace; pages get it at once, the old stays', async () => {
    const mine = await open()
    await mine.ask(rename('Mine'))
    const text = bundleText(
      applyEdit(sampleDocuments(), 'renameSong', { song: 'kettle', title: 'Theirs' }).next,
    )
    const before = snapshot()
    expect(await post('/api/import', text)).toMatchObject({ status: 409, code: 'import.exists' })
    expect(snapshot()).toEqual(before)
    expect(await post('/api/import?replace=yes', text)).toMatchObject({ status: 200, revision: 3 })
    await until(() => mine.messages.filter(m => m.type === 'hello').length === 2)
    expect(mine.messages.findLast(m => m.type === 'hello')).toMatchObject({ revision: 3, show: onDisk() })
    expect(onDisk().songs.kettle.title).toBe('Theirs')
    expect(Object.values(snapshot()).some(kept => kept.includes('"title": "Mine"'))).toBe(true)
    // What was done to the other show cannot be taken back in this one.
    expect(await mine.ask({ type: 'undo', revision: 2 })).toMatchObject({
      problem: { code: 'edit.forgotten' },
    })
  })

  it('another show comes in beside the first, is listed, and each can be opened', async () => {
    const { rig, show } = sampleDocuments()
    expect(
      await post('/api/import', bundleText({ rig, show: { ...show, id: 'tin', name: 'Tin Orchard' } })),
    ).toMatchObject({
      show: 'tin',
    })
    expect(await (await fetch(`${app.url}/api/shows`)).json()).toEqual({
      open: 'tin',
      shows: [
        { id: 'moth-cabinet', name: 'Moth Cabinet' },
        { id: 'tin', name: 'Tin Orchard' },
      ],
    })
    expect(await post('/api/open?show=moth-cabinet')).toMatchObject({ show: 'moth-cabinet' })
    expect(await post('/api/open?show=none')).toMatchObject({ status: 404, code: 'show.unknown' })
    expect(await post('/api/open')).toMatchObject({ status: 404, code: 'show.unknown' })
  })

  it('an app that is started again opens what was open', async () => {
    const { rig, show } = sampleDocuments()
    await post('/api/import', bundleText({ rig, show: { ...show, id: 'tin', name: 'Tin Orchard' } }))
    await app.close()
    app = await start()
    expect((await open()).hello.show.name).toBe('Tin Orchard')
  })

  it.each(Object.entries(damaged))(
    'the damaged %s is refused with %j, and nothing is written',
    async (file, [code, place]) => {
      const before = snapshot()
      const text = readFileSync(new URL(`../samples/damaged/${file}`, import.meta.url), 'utf8')
      const answer = await post(`/api/import?replace=yes&file=${file}`, text)
      expect(answer).toMatchObject({ status: 400, code, where: file + place })
      expect(snapshot()).toEqual(before)
    },
  )

  it('a body that is too large is refused before it is read', async () => {
    const answer = await ask(
      '/api/import',
      { host: new URL(app.url).host, 'content-length': String(65 * 1024 * 1024) },
      'POST',
    )
    expect(answer.status).toBe(413)
    expect(JSON.parse(answer.body)).toMatchObject({ code: 'request.tooLarge' })
  })

  it('the status names the show, the revision and the engine', async () => {
    expect(await (await fetch(`${app.url}/api/status`)).json()).toEqual({
      show: { id: 'moth-cabinet', name: 'Moth Cabinet' },
      revision: 1,
      engine: null,
      notices: [],
    })
  })
})

describe('starting', () => {
  it('on a taken port says so, and frees the folder', async () => {
    const other = tempFolder()
    const taken = { dataFolder: other.path, port: Number(new URL(app.url).port), pageFolder: page.path }
    await expect(startApp({ ...taken, engine, first: sampleDocuments() })).rejects.toMatchObject({
      code: 'request.port',
    })
    expect(existsSync(join(other.path, 'lock'))).toBe(false)
    other.remove()
  })

  it('without any show says so', async () => {
    const other = tempFolder()
    const options = { dataFolder: other.path, port: 0, pageFolder: page.path, engine, first: undefined }
    await expect(startApp(options)).rejects.toMatchObject({ code: 'show.unknown' })
    other.remove()
  })

  it('never overwrites an owned rig or show by the ones that come with a file', async () => {
    const mine = await open()
    await mine.ask(rename('Mine'))
    await mine.ask({ type: 'edit', edit: 'renameRig', args: { name: 'My shed' } })
    await app.close()
    app = await start()
    const { hello } = await open()
    expect([hello.show.songs.kettle!.title, hello.rig.name]).toEqual(['Mine', 'My shed'])
  })
})
