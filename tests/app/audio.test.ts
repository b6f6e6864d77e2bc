// Recordings over HTTP: taken in by what their bytes are, kept whole or not at all, given back whole or in part.

import { createHash } from 'node:crypto'
import { once } from 'node:events'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { type IncomingMessage, request } from 'node:http'
import { join } from 'node:path'
import { audioRoutes } from '@glowchart/server/app/audio.ts'
import type { CodedError } from '@glowchart/shared/errors.ts'
import Fastify from 'fastify'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type RunningApp, runApp, until } from './running-app.ts'

let app: RunningApp
beforeAll(async () => {
  app = await runApp()
})
afterAll(() => app.close())

const folder = () => join(app.data, 'audio')
const kept = () => (existsSync(folder()) ? readdirSync(folder()).sort() : [])
const sha = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')

/** A file that begins with these bytes and goes on with a pattern. */
function file(head: string | number[], length = 300_000): Uint8Array<ArrayBuffer> {
  const bytes = Uint8Array.from({ length }, (_, i) => (i * 31) % 251)
  bytes.set(typeof head === 'string' ? Buffer.from(head, 'latin1') : head)
  return bytes
}
const wav = file('RIFF\xc4\x93\x04\0WAVEfmt ')

const send = (bytes: Uint8Array<ArrayBuffer>, name = 'take.wav') =>
  fetch(`${app.url}/api/audio?name=${name}`, { method: 'POST', body: bytes })
const get = (name: string, range?: string) =>
  fetch(`${app.url}/api/audio/${name}`, range === undefined ? {} : { headers: { range } })
const bytesOf = async (answer: Response) => Buffer.from(await answer.arrayBuffer())

describe('taking a recording in', () => {
  it.each([
    { kind: 'wav', bytes: wav },
    { kind: 'flac', bytes: file('fLaC\0\0\0\x22') },
    { kind: 'ogg', bytes: file('OggS\0\x02') },
    { kind: 'mp3', bytes: file('ID3\x04\0\0\0\0\0\0') },
    { kind: 'mp3', bytes: file([0xff, 0xfb, 0x90, 0x64]) },
    { kind: 'mp3', bytes: file([0xff, 0xf3, 0x48, 0xc4]) },
  ])('knows $kind by its first bytes, whatever the file is called', async ({ kind, bytes }) => {
    const answer = await send(bytes, 'notes.txt')
    expect(await answer.json()).toEqual({ file: `${sha(bytes)}.${kind}` })
    expect(readFileSync(join(folder(), `${sha(bytes)}.${kind}`)).equals(bytes)).toBe(true)
  })

  it('keeps one file of the same bytes, and leaves nothing beside it', async () => {
    const before = kept()
    await send(wav)
    await send(wav, 'again.wav')
    expect(kept()).toEqual(before)
    expect(kept().filter(name => name.startsWith('.'))).toEqual([])
  })

  it.each([
    { what: 'an empty file', bytes: new Uint8Array(), code: 'audio.empty' },
    { what: 'a file of too few bytes', bytes: file('RIFF', 11), code: 'audio.format' },
    { what: 'a RIFF file that is no WAVE', bytes: file('RIFF\0\0\0\0AVI '), code: 'audio.format' },
    { what: 'a MIDI file called take.wav', bytes: file('MThd\0\0\0\x06'), code: 'audio.format' },
    { what: 'an MPEG frame of a reserved layer', bytes: file([0xff, 0xf1, 0x50]), code: 'audio.format' },
    { what: 'an MPEG frame of a reserved bit rate', bytes: file([0xff, 0xfb, 0xf0]), code: 'audio.format' },
    { what: 'text', bytes: file('OggVorbis is not the start of one'), code: 'audio.format' },
  ])('refuses $what and keeps nothing of it', async ({ bytes, code }) => {
    const before = kept()
    const answer = await send(bytes)
    expect(answer.status).toBe(400)
    expect(await answer.json()).toMatchObject({ code, where: 'take.wav', remedy: expect.any(String) })
    expect(kept()).toEqual(before)
  })

  it('keeps nothing of a file whose sender goes away', async () => {
    const before = kept()
    const sending = request(`${app.url}/api/audio`, {
      method: 'POST',
      headers: { 'content-length': String(10 * wav.length) },
    })
    sending.on('error', () => {})
    sending.write(wav)
    await until(() => kept().some(name => name.startsWith('.')))
    sending.destroy()
    await until(() => !kept().some(name => name.startsWith('.')))
    expect(kept()).toEqual(before)
  })

  it('refuses more than 512 MiB before any of it is sent', async () => {
    const sending = request(`${app.url}/api/audio?name=long.wav`, {
      method: 'POST',
      headers: { 'content-length': String(512 * 1024 * 1024 + 1) },
    })
    sending.on('error', () => {})
    sending.flushHeaders()
    const [answer] = (await once(sending, 'response')) as [IncomingMessage]
    const said = JSON.parse(Buffer.concat(await answer.toArray()).toString())
    expect([answer.statusCode, said]).toMatchObject([413, { code: 'audio.tooLarge', where: 'long.wav' }])
    sending.destroy()
  })

  it('refuses what turns out larger than it may be, and keeps nothing of it', async () => {
    const small = Fastify({ forceCloseConnections: true })
    let told: unknown
    small.setErrorHandler((error, _request, reply) => {
      told = (error as CodedError).problem
      return reply.code(413).send('')
    })
    await audioRoutes(small, join(app.data, 'small'), 100_000)
    const url = await small.listen({ host: '127.0.0.1', port: 0 })
    const sending = request(`${url}/api/audio?name=long.wav`, { method: 'POST' })
    sending.on('error', () => {})
    // Without a length beforehand, in chunks.
    sending.write(wav.subarray(0, 50_000))
    sending.end(wav.subarray(50_000))
    const [answer] = (await once(sending, 'response')) as [IncomingMessage]
    await answer.toArray()
    expect(told).toMatchObject({ code: 'audio.tooLarge', where: 'long.wav' })
    expect(readdirSync(join(app.data, 'small/audio'))).toEqual([])
    await small.close()
  })

  it('forgets at its start what was being sent when it ended', async () => {
    mkdirSync(folder(), { recursive: true })
    writeFileSync(join(folder(), '.0f8fad5b-d9cb-469f-a165-70867728950e.new'), 'half')
    const before = kept().filter(name => !name.startsWith('.'))
    await app.restart()
    expect(kept()).toEqual(before)
  })

  it('takes nothing from a page of another site', async () => {
    const answer = await fetch(`${app.url}/api/audio`, {
      method: 'POST',
      body: file('fLaC', 5000),
      headers: { origin: 'http://elsewhere.example' },
    })
    expect(answer.status).toBe(403)
    expect(kept()).not.toContain(`${sha(file('fLaC', 5000))}.flac`)
  })
})

describe('giving a recording back', () => {
  const name = `${sha(wav)}.wav`

  it('gives all of it, with its media type', async () => {
    const answer = await get(name)
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'audio/wav'])
    expect(answer.headers.get('accept-ranges')).toBe('bytes')
    expect((await bytesOf(answer)).equals(wav)).toBe(true)
  })

  it.each([
    { range: 'bytes=0-0', from: 0, to: 1 },
    { range: 'bytes=1000-1999', from: 1000, to: 2000 },
    { range: 'bytes=299000-', from: 299_000, to: 300_000 },
    { range: 'bytes=299000-999999', from: 299_000, to: 300_000 },
    { range: 'bytes=-500', from: 299_500, to: 300_000 },
    { range: 'bytes=-999999', from: 0, to: 300_000 },
  ])('gives the range $range (RFC 9110, 14.1.2)', async ({ range, from, to }) => {
    const answer = await get(name, range)
    expect(answer.status).toBe(206)
    expect(answer.headers.get('content-range')).toBe(`bytes ${from}-${to - 1}/300000`)
    expect((await bytesOf(answer)).equals(wav.slice(from, to))).toBe(true)
  })

  it.each(['bytes=300000-', 'bytes=-0'])('answers 416 to %s', async range => {
    const answer = await get(name, range)
    expect([answer.status, answer.headers.get('content-range')]).toEqual([416, 'bytes */300000'])
    expect(await answer.json()).toMatchObject({ code: 'audio.range' })
  })

  it.each(['bytes=5-2', 'bytes=a-b', 'lines=1-2', 'bytes=0-1,5-6'])('gives all of it to %s', async range => {
    expect((await get(name, range)).status).toBe(200)
  })

  it.each([
    `${'0'.repeat(64)}.wav`,
    'take.wav',
    '..%2Fcid',
    '..%2F..%2Fetc%2Fpasswd',
    `${sha(wav)}.wav%00`,
    `${sha(wav).toUpperCase()}.wav`,
  ])('does not know %s', async asked => {
    const answer = await get(asked)
    expect(answer.status).toBe(404)
    expect(await answer.json()).toMatchObject({ code: 'audio.unknown' })
  })
})
