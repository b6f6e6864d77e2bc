// Pairing over loopback: the code opens, another one does not, and five wrong ones end it.

import { once } from 'node:events'
import { connect, type Server } from 'node:net'
import { type AnsweringOptions, answerAt, type NewPartner } from '@glowchart/server/understudy/answering.ts'
import { openPartner, pairWith } from '@glowchart/server/understudy/asking.ts'
import { newCode, plainCode } from '@glowchart/server/understudy/pairing.ts'
import { readAnnouncement } from '@glowchart/server/understudy/search.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'

const first = { id: '8f14a0de-6a43-4d26-9b1e-1d2a5b6c7d8e', name: 'Stage left' }
const second = { id: '1b9d6bcd-bbfd-4b2d-9b5d-ab8dfbbd4bed', name: 'Spare', port: 40_000 }
let server: Server
let port: number
let code: string | null
let partner: NewPartner | null

beforeEach(async () => {
  code = plainCode(newCode())
  partner = null
  const options: AnsweringOptions = {
    ...first,
    code: () => code,
    spent: () => {
      code = null
    },
    paired: one => {
      partner = one
    },
    secretOf: id => (id === second.id ? (partner?.secret ?? null) : null),
    show: () => 'the show',
    recording: async file => (file === 'large' ? Buffer.alloc(3 << 20, 7) : null),
  }
  server = answerAt('127.0.0.1', 0, options, error => {
    throw error
  })
  await once(server, 'listening')
  port = (server.address() as { port: number }).port
})
afterEach(() => server.close())

const follow = (typed: string) => pairWith('127.0.0.1', port, typed, second)
/** Another code than the one shown. */
const wrong = (): string =>
  [...code!]
    .reverse()
    .join('')
    .replace(/^./, letter => (letter === 'A' ? 'B' : 'A'))

describe('pairing', () => {
  it('leaves both with one secret, after which the code is void', async () => {
    const shown = code!
    const paired = await follow(shown)
    expect(paired).toMatchObject({ ...first, via: '127.0.0.1' })
    expect(partner).toMatchObject({ id: second.id, name: 'Spare', address: '127.0.0.1', port: 40_000 })
    expect(paired.secret.equals(partner!.secret)).toBe(true)
    await expect(follow(shown)).rejects.toMatchObject({ code: 'understudy.code' })
  })

  it('refuses another code, and ends the code at the fifth', async () => {
    const shown = code!
    for (let i = 0; i < 4; i++) {
      await expect(follow(wrong())).rejects.toMatchObject({ code: 'understudy.code' })
      expect([code, partner]).toEqual([shown, null])
    }
    await expect(follow(wrong())).rejects.toMatchObject({ code: 'understudy.code' })
    expect([code, partner]).toEqual([null, null])
    await expect(follow(shown)).rejects.toMatchObject({ code: 'understudy.code' })
  })

  it('says so where nobody listens', async () => {
    server.close()
    await expect(follow(code!)).rejects.toMatchObject({ code: 'understudy.unreachable' })
  })
})

it('who was refused and sends on is cut off before it fills the memory', async () => {
  code = null
  const socket = connect(port, '127.0.0.1')
  const gone = new Promise<void>(resolve => socket.once('close', () => resolve()))
  socket.on('error', () => {})
  const hello = Buffer.from(JSON.stringify({ for: 'pair', ...second, key: 'AAAA' }))
  const head = Buffer.alloc(4)
  head.writeUInt32BE(hello.length)
  socket.write(Buffer.concat([head, hello]))
  // The refusal, and the end of what the other side has to say.
  socket.resume()
  await once(socket, 'data')
  const open = new Promise<number>(resolve => server.getConnections((_, count) => resolve(count)))
  expect(await open).toBe(1)
  const flood = Buffer.alloc(1 << 20)
  for (let i = 0; i < 64 && !socket.destroyed; i++) socket.write(flood)
  await gone
  expect(socket.bytesWritten).toBeLessThan(64 << 20)
})

describe('the show', () => {
  it('goes to the partner, with recordings, and to nobody else', async () => {
    const { secret } = await follow(code!)
    const asked = await openPartner('127.0.0.1', port, second.id, secret)
    expect(await asked.show()).toBe('the show')
    expect((await asked.recording('large'))?.equals(Buffer.alloc(3 << 20, 7))).toBe(true)
    expect(await asked.recording('none')).toBeNull()
    asked.end()

    const impostor = await openPartner('127.0.0.1', port, second.id, Buffer.alloc(32, 1))
    await expect(impostor.show()).rejects.toThrow()
    const stranger = await openPartner('127.0.0.1', port, first.id, secret)
    await expect(stranger.show()).rejects.toThrow()
  })
})

it('a code is read without regard to capitals, spaces and dashes, and only when it can be one', () => {
  expect(plainCode(' k7pm-3wqx ')).toBe('K7PM3WQX')
  expect(plainCode('K7PM 3WQ')).toBeNull()
  expect(plainCode('K7PM-3WQ0')).toBeNull()
  for (let i = 0; i < 50; i++) expect(plainCode(newCode())).toHaveLength(8)
})

it('an announcement is read only when it is one, and its name shows nothing that is no text', () => {
  const told = { glowchart: 'understudy', id: first.id, name: 'Stage\u0007 left', port: 21_907 }
  expect(readAnnouncement(Buffer.from(JSON.stringify(told)))).toEqual({ ...told, name: 'Stage left' })
  expect(readAnnouncement(Buffer.from('{"glowchart":"understudy"}'))).toBeNull()
  expect(readAnnouncement(Buffer.from(JSON.stringify({ ...told, name: 'x'.repeat(600) })))).toBeNull()
})
