// The app over HTTP: who may ask, the page, shows in and out, damaged bundles, starting.

import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { join } from 'node:path'
import { guard } from '@glowchart/server/app/guard.ts'
import { startApp } from '@glowchart/server/app/start.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { bundleText } from '@glowchart/shared/show/bundle.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import WebSocket from 'ws'
import { damaged } from '../show/damaged.ts'
import { sampleDocuments } from '../show/samples.ts'
import { tempFolder } from '../support/processes.ts'
import { type RunningApp, rename, runApp, until } from './running-app.ts'

let running: RunningApp
beforeEach(async () => {
  running = await runApp()
})
afterEach(() => running.close())

interface Answer {
  status: number
  headers: Record<string, unknown>
  body: string
}

/** A request with headers that `fetch` would not let through. */
function ask(path: string, headers: Record<string, string>, method = 'GET'): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const { port } = new URL(running.url)
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
  const port = () => new URL(running.url).port

  it('is a page of this server, by any of its names', async () => {
    for (const name of ['localhost', '127.0.0.1', '[::1]']) {
      const host = `${name}:${port()}`
      expect((await ask('/api/status', { host, origin: `http://${host}` })).status).toBe(200)
    }
  })

  it('is that page without a port too where the port is that of http, which browsers leave out', async () => {
    type Hook = (request: unknown, reply: unknown) => Promise<void>
    const hooks: Record<string, Hook> = {}
    const app = { addHook: (name: string, hook: Hook) => Object.assign(hooks, { [name]: hook }) }
    guard(app as never, () => true)
    const asked = (host: string, localPort: number) => {
      const headers = { host, origin: `http://${host}` }
      const socket = { localPort, localAddress: '127.0.0.1' }
      return hooks.onRequest!({ headers, socket, method: 'GET', url: '/' }, { headers() {} })
    }
    await asked('localhost', 80)
    await expect(asked('localhost', 8080)).rejects.toMatchObject({ code: 'request.host' })
    await expect(asked('evil.example', 80)).rejects.toMatchObject({ code: 'request.host' })
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
      const socket = new WebSocket(`${running.url.replace('http', 'ws')}/live`, { origin })
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
const snapshot = (): Record<string, string> =>
  Object.fromEntries(
    readdirSync(running.data, { recursive: true, withFileTypes: true })
      .filter(entry => entry.isFile())
      .map(entry => join(entry.parentPath, entry.name))
      .sort()
      .map(path => [path, readFileSync(path, 'utf8')]),
  )
const post = async (path: string, body?: string) => {
  const response = await fetch(`${running.url}${path}`, {
    method: 'POST',
    ...(body !== undefined && { body }),
  })
  return { status: response.status, ...((await response.json()) as Record<string, unknown>) }
}

describe('over HTTP', () => {
  it('the page is at /, and what is not there is said in words', async () => {
    expect(await (await fetch(`${running.url}/`)).text()).toBe('<title>the page</title>')
    const missing = await fetch(`${running.url}/nothing`)
    expect([missing.status, ((await missing.json()) as { code: string }).code]).toEqual([
      404,
      'request.unknown',
    ])
    expect((await ask('/../../etc/passwd', { host: new URL(running.url).host })).status).toBe(403)
  })

  it('a bundle goes out and comes in again as the same show', async () => {
    const exported = await fetch(`${running.url}/api/export`)
    expect(exported.headers.get('content-disposition')).toBe(
      'attachment; filename="moth-cabinet.glowchart.json"',
    )
    const text = await exported.text()
    expect(text).toBe(bundleText(sampleDocuments()))
    expect(await post('/api/import', text)).toMatchObject({ status: 200, show: 'moth-cabinet' })
  })

  it('a bundle brings its recordings; one whose bytes are not those of its name is refused, and nothing is kept', async () => {
    const wav = Buffer.from(`RIFF${'\0'.repeat(4)}WAVEfmt ${'\0'.repeat(40)}`, 'latin1')
    const sent = await fetch(`${running.url}/api/audio?name=a.wav`, {
      method: 'POST',
      body: new Uint8Array(wav),
    })
    const { file } = (await sent.json()) as { file: string }
    const page = await running.open()
    const audio = { file, name: 'a.wav', seconds: 1 }
    await page.ask({ type: 'edit', edit: 'setAudio', args: { song: 'kettle', audio } })
    const text = await (await fetch(`${running.url}/api/export`)).text()
    const bundle = JSON.parse(text)
    // The sample names another recording, which is on no disk here: it was replaced by ours.
    expect(bundle.audio).toEqual({ [file]: wav.toString('base64') })
    rmSync(join(running.data, 'audio', file))
    expect((await fetch(`${running.url}/api/audio/${file}`)).status).toBe(404)
    bundle.audio[file] = Buffer.from(`${wav.toString('latin1')}more`, 'latin1').toString('base64')
    expect(await post('/api/import', JSON.stringify(bundle))).toMatchObject({
      status: 400,
      code: 'audio.damaged',
    })
    expect((await fetch(`${running.url}/api/audio/${file}`)).status).toBe(404)
    expect(await post('/api/import', text)).toMatchObject({ status: 200 })
    expect(Buffer.from(await (await fetch(`${running.url}/api/audio/${file}`)).arrayBuffer())).toEqual(wav)
    // A file of the same size whose bytes a disk has lost.
    writeFileSync(join(running.data, 'audio', file), Buffer.alloc(wav.length))
    expect(await post('/api/import', text)).toMatchObject({ status: 200 })
    expect(readFileSync(join(running.data, 'audio', file))).toEqual(wav)
  })

  it('a show of the same id that differs comes in only when asked to replace; pages get it at once, the old stays', async () => {
    const mine = await running.open()
    await mine.ask(rename('Mine'))
    const text = bundleText(
      applyEdit(sampleDocuments(), 'renameSong', { song: 'kettle', title: 'Theirs' }).next,
    )
    // Whoever asks for the list has what was edited in the files first.
    await fetch(`${running.url}/api/shows`)
    const before = snapshot()
    expect(await post('/api/import', text)).toMatchObject({ status: 409, code: 'import.exists' })
    expect(snapshot()).toEqual(before)
    expect(await post('/api/import?replace=yes', text)).toMatchObject({ status: 200, revision: 3 })
    await until(() => mine.messages.filter(m => m.type === 'hello').length === 2)
    expect(mine.messages.findLast(m => m.type === 'hello')).toMatchObject({
      revision: 3,
      show: running.onDisk(),
    })
    expect(running.titleOnDisk()).toBe('Theirs')
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
    expect(await (await fetch(`${running.url}/api/shows`)).json()).toEqual({
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
    await running.restart()
    expect((await running.open()).hello.show.name).toBe('Tin Orchard')
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
      { host: new URL(running.url).host, 'content-length': String(257 * 1024 * 1024) },
      'POST',
    )
    expect(answer.status).toBe(413)
    expect(JSON.parse(answer.body)).toMatchObject({ code: 'request.tooLarge' })
  })

  it('the status names the show, the revision and the engine', async () => {
    expect(await (await fetch(`${running.url}/api/status`)).json()).toEqual({
      show: { id: 'moth-cabinet', name: 'Moth Cabinet' },
      revision: 1,
      version: null,
      engine: null,
      notices: [],
    })
  })
})

describe('starting', () => {
  it('again after a fall needs no file that the command line named: its stick may be gone', async () => {
    let looks = 0
    const first = async () => {
      if (looks++ > 0) throw new CodedError('file.missing', 'there is no such file', 'moth.json')
      return sampleDocuments()
    }
    const other = await runApp({ first })
    await other.restart()
    expect((await other.open()).hello.show.id).toBe('moth-cabinet')
    await other.close()
  })

  it('on a taken port says so, and frees the folder', async () => {
    const other = tempFolder()
    const taken = {
      dataFolder: other.path,
      port: Number(new URL(running.url).port),
      pageFolder: running.page,
    }
    await expect(
      startApp({ ...taken, engine: running.engine, first: async () => sampleDocuments() }),
    ).rejects.toMatchObject({
      code: 'request.port',
    })
    expect(existsSync(join(other.path, 'lock'))).toBe(false)
    other.remove()
  })

  it('without any show says so', async () => {
    const other = tempFolder()
    const options = {
      dataFolder: other.path,
      port: 0,
      pageFolder: running.page,
      engine: running.engine,
      first: undefined,
    }
    await expect(startApp(options)).rejects.toMatchObject({ code: 'show.unknown' })
    other.remove()
  })

  it('never overwrites an owned rig or show by the ones that come with a file', async () => {
    const mine = await running.open()
    await mine.ask(rename('Mine'))
    await mine.ask({ type: 'edit', edit: 'renameRig', args: { name: 'My shed' } })
    // Another start of the server, not the same one's app started again.
    await running.restart(() => writeFileSync(join(running.data, 'open'), 'moth-cabinet 1\n'))
    const { hello } = await running.open()
    expect([hello.show.songs.kettle!.title, hello.rig.name]).toEqual(['Mine', 'My shed'])
  })
})
