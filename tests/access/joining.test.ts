// Joining from the network: PIN, session, hand-over and taking back, over real sockets on loopback; what is kept on the disk.

import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { connect, createServer } from 'node:net'
import { join } from 'node:path'
import type { AccessWish } from '@glowchart/shared/access/access.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type RunningApp, rename, runApp, until } from '../app/running-app.ts'
import { askToJoin, GUESTS_AT, give, type Opened, openToGuests } from '../support/guests.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'

let running: RunningApp
let owner: PageSocket
/** A clock that stands still, so that no wait is over by itself. */
let later = 0
beforeEach(async () => {
  running = await runApp({ now: () => 1_900_000_000_000 + later })
  owner = await running.open('page-of-owner')
})
afterEach(() => running.close())

const port = () => Number(new URL(running.url).port)
const wish = (access: AccessWish) => owner.ask({ type: 'access', access })
const kept = () => readFileSync(join(running.data, 'access.json'), 'utf8')
const answers = (host: string) =>
  new Promise<boolean>(resolve => {
    const socket = connect({ host, port: port() }, () => resolve(true))
    socket.on('error', () => resolve(false))
    socket.unref()
  })
const roleOf = async (opened: Opened, cookie: string) =>
  ((await (await fetch(`${opened.url}/api/me`, { headers: { cookie } })).json()) as { role: string | null })
    .role

describe('the network', () => {
  it('is closed from the start, opened by the laptop, and closed again', async () => {
    expect(await answers(GUESTS_AT)).toBe(false)
    const opened = await openToGuests(owner)
    expect(opened.url).toBe(`http://${GUESTS_AT}:${port()}`)
    expect(await answers(GUESTS_AT)).toBe(true)
    expect((await fetch(`${opened.url}/`)).status).toBe(200)
    expect(await wish({ do: 'close' })).toMatchObject({ type: 'done' })
    expect(await answers(GUESTS_AT)).toBe(false)
    expect(opened.state()).toMatchObject({ open: null, pin: null, guests: [] })
  })

  it.each(['127.0.0.1', '0.0.0.0', '224.0.0.1', '255.255.255.255', '192.0.2.77'])(
    'is not opened at %s, and nothing is changed',
    async address => {
      expect(await wish({ do: 'open', address })).toMatchObject({ problem: { code: 'access.address' } })
      expect(existsSync(join(running.data, 'access.json')) && JSON.parse(kept()).open).toBeFalsy()
    },
  )

  it('is not opened at a port that another program has there', async () => {
    const other = createServer().listen(port(), GUESTS_AT)
    await new Promise(resolve => other.once('listening', resolve))
    expect(await wish({ do: 'open', address: GUESTS_AT })).toMatchObject({
      problem: { code: 'request.port' },
    })
    other.close()
  })

  it('opened again has another PIN, and who had joined has to join again', async () => {
    const first = await openToGuests(owner)
    const { cookie, page } = await first.join('Drums')
    const phone = await page()
    const second = await openToGuests(owner)
    expect(await phone.ended).toBeGreaterThan(1000)
    expect(second.pin).not.toBe(first.pin)
    expect(await roleOf(second, cookie)).toBe(null)
  })
})

describe('a guest', () => {
  it('joins with the PIN, spaces or not, and looks on; the token is for the browser alone', async () => {
    const { url, pin } = await openToGuests(owner)
    expect(pin).toMatch(/^\d{8}$/)
    const response = await askToJoin(url, `${pin.slice(0, 4)} ${pin.slice(4)}`, 'Drums')
    expect(await response.json()).toEqual({ role: 'viewer' })
    expect(response.headers.get('set-cookie')).toMatch(
      /^glowchart-guest=[\w-]{43}; Path=\/; Max-Age=\d+; HttpOnly; SameSite=Strict$/,
    )
  })

  it('with a wrong PIN is not let in, and after five has to wait, also over a restart of the app', async () => {
    const { url, pin } = await openToGuests(owner)
    const wrong = pin === '00000000' ? '11111111' : '00000000'
    for (let i = 0; i < 5; i++) {
      const response = await askToJoin(url, wrong)
      expect(response.status).toBe(401)
      expect(await response.json()).toMatchObject({ code: 'access.pin' })
    }
    for (const tried of [wrong, pin]) {
      const response = await askToJoin(url, tried)
      expect(response.status).toBe(429)
      expect(await response.json()).toMatchObject({ code: 'access.wait', message: /1 s to wait/ })
    }
    expect(JSON.parse(kept()).attempts.byAddress['127.0.0.1'].count).toBe(5)
    await running.restart()
    const again = `http://${GUESTS_AT}:${port()}`
    expect((await askToJoin(again, pin)).status).toBe(429)
    later += 1000
    expect((await askToJoin(again, pin)).status).toBe(200)
  })

  it('has to wait no more when the laptop makes another PIN', async () => {
    const opened = await openToGuests(owner)
    for (let i = 0; i < 6; i++) await askToJoin(opened.url, 'wrong')
    expect((await askToJoin(opened.url, opened.pin)).status).toBe(429)
    await wish({ do: 'pin' })
    expect((await askToJoin(opened.url, opened.state().pin!)).status).toBe(200)
  })

  it('that sends no PIN, no name or a large body is refused', async () => {
    const { url, pin } = await openToGuests(owner)
    for (const body of ['', '{', '[]', '{"pin":5}', JSON.stringify({ pin, name: ' ' })]) {
      const response = await fetch(`${url}/api/join`, { method: 'POST', body })
      expect([response.status, ((await response.json()) as { code: string }).code]).toEqual([
        400,
        'message.schema',
      ])
    }
    const large = await fetch(`${url}/api/join`, { method: 'POST', body: 'x'.repeat(1025) })
    expect(large.status).toBe(413)
  })

  it('is given the controls and has them taken back, at once and on open pages', async () => {
    const opened = await openToGuests(owner)
    const drums = await opened.join('Drums')
    const phone = await drums.page()
    await until(() => opened.state().guests[0]?.pages === 1)
    expect(opened.state().guests).toMatchObject([{ name: 'Drums', role: 'viewer', address: '127.0.0.1' }])
    const play = { type: 'transport', transport: { do: 'play' } } as const
    expect(await phone.ask(play)).toMatchObject({ problem: { code: 'access.role' } })
    await give(owner, drums.id, 'controller')
    expect(phone.messages.filter(m => m.type === 'role')).toEqual([{ type: 'role', role: 'controller' }])
    expect(await phone.ask(play)).toMatchObject({ type: 'done' })
    await give(owner, drums.id, 'viewer')
    expect(await phone.ask(play)).toMatchObject({ problem: { code: 'access.role' } })
    expect(await give(owner, 'guest-none', 'viewer')).toMatchObject({ problem: { code: 'access.guest' } })
    phone.close()
    await until(() => opened.state().guests[0]?.pages === 0)
  })

  it('from whom the controls are taken lights nothing any more', async () => {
    const opened = await openToGuests(owner)
    const drums = await opened.join('Drums')
    await give(owner, drums.id, 'controller')
    const phone = await drums.page()
    await phone.ask({ type: 'live', live: { lit: ['tube-1'] } })
    await phone.ask({ type: 'live', live: { bumps: { tubes: 1 } } })
    await phone.ask({ type: 'check', check: { levels: {} } as never })
    await give(owner, drums.id, 'viewer')
    expect(running.engine.asked.slice(-3)).toEqual([
      { type: 'live', live: { lit: [] } },
      { type: 'live', live: { bumps: { tubes: null } } },
      { type: 'check', check: null },
    ])
    phone.close()
  })

  it('that goes away while it holds a bump lets it go', async () => {
    const opened = await openToGuests(owner)
    const drums = await opened.join('Drums')
    await give(owner, drums.id, 'controller')
    const phone = await drums.page()
    await phone.ask({ type: 'live', live: { bumps: { tubes: 1 } } })
    phone.close()
    await until(() => running.engine.asked.length === 2)
    expect(running.engine.asked.at(-1)).toEqual({ type: 'live', live: { bumps: { tubes: null } } })
  })

  it('cannot pass for another page to take back its edits', async () => {
    await owner.ask(rename('Fog'))
    const opened = await openToGuests(owner)
    const drums = await opened.join('Drums')
    await give(owner, drums.id, 'controller')
    const phone = await drums.page('page-of-owner')
    expect(phone.hello.you).not.toBe('page-of-owner')
    expect(await phone.ask({ type: 'undo', revision: 2 })).toMatchObject({
      problem: { code: 'edit.notYours' },
    })
    phone.close()
  })

  it('is cut off by being sent off, by another PIN, and by closing; others stay when one is sent off', async () => {
    const opened = await openToGuests(owner)
    const [drums, bass] = [await opened.join('Drums'), await opened.join('Bass')]
    const [first, second] = [await drums.page(), await bass.page()]
    await wish({ do: 'dismiss', guest: drums.id })
    expect(await first.ended).toBe(4001)
    expect(await roleOf(opened, drums.cookie)).toBe(null)
    expect(await roleOf(opened, bass.cookie)).toBe('viewer')
    await wish({ do: 'pin' })
    expect(await second.ended).toBe(4001)
    expect(await roleOf(opened, bass.cookie)).toBe(null)
    expect((await askToJoin(opened.url, opened.pin)).status).toBe(401)
    expect((await askToJoin(opened.url, opened.state().pin!)).status).toBe(200)
  })
})

describe('on the disk', () => {
  it('stands no PIN and no token, and an app that is started again lets in who had joined', async () => {
    const opened = await openToGuests(owner)
    const drums = await opened.join('Drums')
    await give(owner, drums.id, 'controller')
    const token = drums.cookie.split('=')[1]!
    expect(kept()).not.toContain(opened.pin)
    expect(kept()).not.toContain(token)
    await running.restart()
    const url = `http://${GUESTS_AT}:${port()}`
    const phone = await openPage(url, 'page-of-drums', drums.cookie)
    expect(phone.hello.role).toBe('controller')
    const page = await running.open('page-of-owner')
    await until(() => page.messages.some(m => m.type === 'access'))
    // Only its hash is known now.
    expect(page.messages.find(m => m.type === 'access')).toMatchObject({
      access: {
        pin: null,
        open: { address: GUESTS_AT, says: '' },
        guests: [{ name: 'Drums', role: 'controller' }],
      },
    })
    expect((await askToJoin(url, opened.pin, 'Bass')).status).toBe(200)
    phone.close()
  })

  it('a file that is damaged lets nobody in', async () => {
    const opened = await openToGuests(owner)
    const drums = await opened.join('Drums')
    await running.restart(() => writeFileSync(join(running.data, 'access.json'), '{"version":1,"open":'))
    expect(await answers(GUESTS_AT)).toBe(false)
    expect(drums.cookie).toMatch(/=/)
  })

  it('that cannot be written, the controls are taken back all the same, and the page says that it was not saved', async () => {
    const opened = await openToGuests(owner)
    const drums = await opened.join('Drums')
    await give(owner, drums.id, 'controller')
    const phone = await drums.page()
    // A folder where the file is written first: as good as a full disk.
    const [file, aside] = [join(running.data, '.access.json.new'), join(running.data, 'aside')]
    mkdirSync(join(file, 'in-the-way'), { recursive: true })
    expect(await give(owner, drums.id, 'viewer')).toMatchObject({ type: 'done' })
    expect(await phone.ask({ type: 'transport', transport: { do: 'play' } })).toMatchObject({
      problem: { code: 'access.role' },
    })
    expect(opened.state().unsaved).toMatch(/cannot be written/)
    expect(await wish({ do: 'open', address: '127.0.0.3' })).toMatchObject({
      problem: { code: 'data.unwritable' },
    })
    expect(await answers('127.0.0.3')).toBe(false)
    renameSync(file, aside)
    rmSync(aside, { recursive: true })
    phone.close()
  })
})
