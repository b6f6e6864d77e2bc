// What abuse costs: floods, large messages, many sockets, slow senders, and names that lead out of the data folder.

import { readdirSync } from 'node:fs'
import { request } from 'node:http'
import { connect } from 'node:net'
import { listenAt, stopListening } from '@glowchart/server/access/lan.ts'
import { paced } from '@glowchart/server/app/measure.ts'
import fc from 'fast-check'
import Fastify from 'fastify'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import WebSocket from 'ws'
import { type RunningApp, runApp, until } from '../app/running-app.ts'
import { give, type Opened, openToGuests } from '../support/guests.ts'
import type { PageSocket } from '../support/page-socket.ts'

let running: RunningApp
let owner: PageSocket
let opened: Opened
beforeAll(async () => {
  running = await runApp()
  owner = await running.open('page-of-owner')
  opened = await openToGuests(owner)
})
afterAll(() => running.close())
const open: { close(): void }[] = []
afterEach(() => {
  for (const one of open.splice(0)) one.close()
})

const rawSocket = (cookie: string) => {
  const socket = new WebSocket(`${opened.url.replace('http', 'ws')}/live`, { headers: { cookie } })
  socket.on('error', () => {})
  open.push({ close: () => socket.terminate() })
  return socket
}

describe('a page that talks too much', () => {
  it('is read at its pace and no faster, by a clock', () => {
    let at = 0
    const count = paced({ rate: 100, burst: 10 }, () => at)
    expect(Array.from({ length: 10 }, () => count(0))).toEqual(Array(10).fill(0))
    expect(count(0)).toBe(10)
    at = 10
    expect(count(0)).toBe(10)
    at = 1e6
    expect(count(0)).toBe(0)
    // 40 KiB count as ten more.
    expect(count(40 * 1024)).toBe(20)
  })

  it('is slowed, while the others are answered as before', async () => {
    const guest = await opened.join('Flood')
    const socket = rawSocket(guest.cookie)
    let answers = 0
    socket.on('message', data => {
      if (String(data).startsWith('{"type":"clockPong"')) answers++
    })
    await new Promise(resolve => socket.once('open', resolve))
    const flood = 20_000
    for (let i = 0; i < flood; i++) socket.send('{"type":"clockPing","at":1}')
    await until(() => answers > 0)
    const began = performance.now()
    for (let i = 0; i < 20; i++) await owner.ask({ type: 'live', live: { grand: 1 } })
    expect((performance.now() - began) / 20).toBeLessThan(50)
    // 600 at once and what one read of the socket holds, then 200 a second.
    expect(answers).toBeLessThan(flood / 2)
  })

  it('is cut off for a message that only who has the controls may need', async () => {
    const guest = await opened.join('Large')
    const page = await guest.page()
    page.send({ type: 'x'.repeat(9000) } as never)
    // RFC 6455 7.4.1: 1008, against the policy.
    expect(await page.ended).toBe(1008)
    await give(owner, guest.id, 'controller')
    const again = await guest.page()
    open.push(again)
    const edit = { type: 'edit', edit: 'renameShow', args: { name: 'x'.repeat(9000) } } as const
    expect(await again.ask(edit)).toMatchObject({ problem: { code: 'edit.schema' } })
  })

  it('has room for six sockets, and the others keep theirs', async () => {
    const [greedy, modest] = [await opened.join('Greedy'), await opened.join('Modest')]
    const codes: number[] = []
    for (let i = 0; i < 10; i++) rawSocket(greedy.cookie).on('close', code => codes.push(code))
    // IANA's registry of WebSocket close codes: 1013, try again later.
    await until(() => codes.length === 4)
    expect(codes).toEqual([1013, 1013, 1013, 1013])
    open.push(await modest.page())
  })
})

describe('a sender who never comes to an end', () => {
  it('is cut off, in the headers and in the body', async () => {
    const app = Fastify()
    app.post('/', async () => 'never')
    await app.ready()
    const patience = {
      headersTimeout: 200,
      requestTimeout: 400,
      keepAliveTimeout: 200,
      connectionsCheckingInterval: 50,
    }
    const server = await listenAt(app, '127.0.0.2', 0, patience)
    const { port } = server.address() as { port: number }
    const send = (text: string) =>
      new Promise<string>(resolve => {
        let heard = ''
        const socket = connect({ host: '127.0.0.2', port }, () => socket.write(text))
        socket.on('data', chunk => {
          heard += chunk
        })
        socket.on('error', () => {})
        socket.on('close', () => resolve(heard))
      })
    // RFC 9110 15.5.9: 408, request timeout.
    expect(await send('GET / HTTP/1.1\r\nhost: a\r\nx-slow: ')).toMatch(/^HTTP\/1.1 408 /)
    expect(
      await send(
        'POST / HTTP/1.1\r\nhost: a\r\ncontent-type: application/json\r\ncontent-length: 99\r\n\r\nslow',
      ),
    ).toMatch(/^HTTP\/1.1 408 /)
    stopListening(server)
    await app.close()
  })

  it('and has not joined is refused before the body comes, and not waited for', async () => {
    const { hostname, port, host } = new URL(opened.url)
    const headers = { host, 'content-length': String(1e9) }
    const sent = request({ hostname, port, path: '/api/audio', method: 'POST', headers })
    sent.write('x')
    sent.on('error', () => {})
    const status = new Promise<number>(resolve =>
      sent.once('response', response => resolve(response.statusCode!)),
    )
    const closed = new Promise<void>(resolve => sent.once('close', () => resolve()))
    expect(await status).toBe(401)
    await closed
  })
})

/** Names as an attacker would write them, and any others. */
const names = fc.oneof(
  fc.constantFrom(
    '../open',
    '..%2fopen',
    '%2e%2e%2fopen',
    '..\\open',
    '....//open',
    '/etc/passwd',
    '%2fetc%2fpasswd',
    'file:///etc/passwd',
    'C:\\windows',
    'a\0b',
    '%00',
    '.',
    '..',
    '',
    '__proto__',
    'constructor',
    'con',
    'x'.repeat(3000),
  ),
  fc.string({ unit: 'binary', maxLength: 60 }),
)

describe('a name that is asked for', () => {
  /** Every file of the data folder. */
  const listed = () => readdirSync(running.data, { recursive: true }).map(String).sort()
  const raw = (path: string, method: string): Promise<{ status: number; body: string }> =>
    new Promise((resolve, reject) => {
      const { hostname, port, host } = new URL(running.url)
      const sent = request({ hostname, port, path, method, headers: { host } }, response => {
        let body = ''
        response.on('data', chunk => {
          body += chunk
        })
        response.on('end', () => resolve({ status: response.statusCode!, body }))
      })
      sent.on('error', reject)
      sent.end()
    })
  /** As a path may be on the wire: visible ASCII (RFC 9112 3.2). */
  const wire = (name: string) => encodeURI(name).replace(/[^\x21-\x7e]/g, '')

  it.each([
    ['a show', 'POST', '/api/open?show='],
    ['an export', 'GET', '/api/export?show='],
    ['a recording', 'GET', '/api/audio/'],
    ['a page', 'GET', '/'],
  ])('as %s never leads out of the data folder, nor to a fault', async (_what, method, path) => {
    const before = listed()
    await fc.assert(
      fc.asyncProperty(names, fc.boolean(), async (name, whole) => {
        const asked = path + (whole ? encodeURIComponent(name) : wire(name))
        const { status, body } = await raw(asked, method)
        expect([200, 400, 403, 404, 414]).toContain(status)
        expect(body).not.toContain('root:')
        if (status !== 200) expect(JSON.parse(body)).toMatchObject({ code: expect.any(String) })
      }),
      { numRuns: 150 },
    )
    expect(listed()).toEqual(before)
  })

  it('as what joins, or as a cookie, is refused in words', async () => {
    await fc.assert(
      fc.asyncProperty(fc.jsonValue(), fc.string({ maxLength: 80 }), async (body, token) => {
        const text = JSON.stringify(body)
        const answer = await fetch(`${opened.url}/api/join`, {
          method: 'POST',
          body: text,
          headers: { cookie: `glowchart-guest=${encodeURIComponent(token)}` },
        })
        expect([400, 413]).toContain(answer.status)
      }),
      { numRuns: 100 },
    )
    expect(opened.state().guests.some(guest => guest.role !== 'viewer' && guest.name !== 'Large')).toBe(false)
  })
})
