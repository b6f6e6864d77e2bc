// What each role may do, held to a table of the test's own: every message of the live socket, and every route.

import type { Role } from '@glowchart/shared/access/role.ts'
import type { PageMessage } from '@glowchart/shared/messages.ts'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type RunningApp, rename, runApp, until } from '../app/running-app.ts'
import { give, type Joined, openToGuests } from '../support/guests.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'

const roles = ['viewer', 'checker', 'controller', 'owner'] as const
let running: RunningApp
let url: string
const pages = {} as Record<Role, PageSocket>
const guests: Partial<Record<Role, Joined>> = {}

beforeAll(async () => {
  running = await runApp()
  pages.owner = await running.open('page-of-owner')
  const opened = await openToGuests(pages.owner)
  url = opened.url
  for (const role of ['viewer', 'checker', 'controller'] as const) {
    const guest = await opened.join(role)
    guests[role] = guest
    await give(pages.owner, guest.id, role)
    pages[role] = await guest.page()
  }
})
afterAll(async () => {
  for (const role of roles) pages[role].close()
  await running.close()
})

/** One of each type, and who may send it: those from this role on. A new type without a line does not compile. */
const messages: Record<PageMessage['type'], [least: Role, message: PageMessage]> = {
  frames: ['viewer', { type: 'frames', on: true }],
  clockPing: ['viewer', { type: 'clockPing', at: 1 }],
  check: ['checker', { type: 'check', seq: 0, check: null }],
  edit: ['controller', { ...rename('Fog'), seq: 0 }],
  undo: ['controller', { type: 'undo', seq: 0, revision: 99 }],
  transport: ['controller', { type: 'transport', seq: 0, transport: { do: 'play' } }],
  live: ['controller', { type: 'live', seq: 0, live: { blackout: true } }],
  output: [
    'controller',
    { type: 'output', seq: 0, output: { rate: 40, sync: false, sourceName: 'Test', routes: [] } },
  ],
  discover: ['controller', { type: 'discover', seq: 0, discover: { everywhere: false, hosts: [] } }],
  version: ['controller', { type: 'version', seq: 0, version: { do: 'end', from: 1 } }],
  recover: ['controller', { type: 'recover', seq: 0, answer: 'fresh' }],
  midiChoice: ['controller', { type: 'midiChoice', seq: 0, choice: { clockFrom: null, clockTo: null } }],
  releaseHouse: ['controller', { type: 'releaseHouse', seq: 0 }],
  midi: ['controller', { type: 'midi', midi: { port: 'p', at: 0, bytes: [248] } }],
  understudy: ['owner', { type: 'understudy', seq: 0, understudy: { do: 'search', on: false } }],
  access: ['owner', { type: 'access', seq: 0, access: { do: 'role', guest: 'nobody', role: 'viewer' } }],
}
const cases = Object.values(messages).flatMap(([least, message]) =>
  roles.map(role => [message.type, role, roles.indexOf(role) >= roles.indexOf(least), message] as const),
)
/** What has reached the engine. */
const heard = () => running.engine.asked.length + running.engine.sent.length
/** Answered after everything that was sent before it. */
async function settled(page: PageSocket): Promise<void> {
  const count = page.messages.filter(m => m.type === 'clockPong').length
  page.send({ type: 'clockPing', at: 2 })
  await until(() => page.messages.filter(m => m.type === 'clockPong').length > count)
}

describe('a message of the live socket', () => {
  it.each(cases)('%s by a %s: %s', async (type, role, may, message) => {
    const page = pages[role]
    const [before, title] = [heard(), running.titleOnDisk()]
    if ('seq' in message) {
      const answer = await page.ask(message)
      const code = answer.type === 'refused' ? answer.problem.code : null
      if (may) expect(code).not.toBe('access.role')
      else expect(answer).toMatchObject({ type: 'refused', problem: { code: 'access.role', where: type } })
    } else {
      page.send(message)
      await settled(page)
      if (type === 'midi') expect(heard() - before).toBe(may ? 1 : 0)
    }
    if (!may) {
      expect(heard()).toBe(before)
      expect(running.titleOnDisk()).toBe(title)
    }
  })

  it('that writes down a line check may come from who may check lines; other edits may not', async () => {
    const checked = { fixture: 'none', checked: { at: '2031-05-04T19:30:00.000Z', passed: true } }
    const edit = (name: string, args: unknown) => ({ type: 'edit', edit: name, args }) as const
    const codes = { viewer: 'access.role', checker: 'edit.missing', controller: 'edit.missing' } as const
    for (const role of ['viewer', 'checker', 'controller'] as const) {
      expect(await pages[role].ask(edit('setChecked', checked))).toMatchObject({
        problem: { code: codes[role] },
      })
    }
    expect(await pages.checker.ask(edit('setStand', {}))).toMatchObject({ problem: { code: 'access.role' } })
  })

  it('tells who is there, and the PIN, to nobody but the laptop', () => {
    for (const role of ['viewer', 'checker', 'controller'] as const) {
      expect(pages[role].hello.role).toBe(role)
      expect(pages[role].messages.some(m => m.type === 'access')).toBe(false)
    }
    expect(pages.owner.hello.role).toBe('owner')
  })
})

/** Least role of each route; `null`: anyone. The bodies are wrong on purpose: who may ask hears of that, not of the role. */
const routes: Record<string, Role | null> = {
  'GET /': null,
  'GET /api/me': null,
  'POST /api/join': null,
  'GET /api/status': 'viewer',
  'GET /api/shows': 'viewer',
  'GET /api/audio/none.wav': 'viewer',
  'GET /api/preflight': 'controller',
  'GET /api/export': 'controller',
  'HEAD /api/export': 'controller',
  'POST /api/open?show=none': 'controller',
  'POST /api/import': 'controller',
  'POST /api/audio': 'controller',
}

describe('a route', () => {
  it.each(Object.entries(routes))('%s takes a %s', async (route, least) => {
    const [method = '', path = ''] = route.split(' ')
    const status = async (base: string, cookie?: string) =>
      (await fetch(base + path, { method, ...(cookie !== undefined && { headers: { cookie } }) })).status
    const refusals = [401, 403]
    const stranger = await status(url)
    if (least === null) expect(stranger).toBeLessThan(401)
    else expect(stranger).toBe(401)
    expect(await status(url, 'glowchart-guest=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA')).toBe(stranger)
    for (const role of ['viewer', 'checker', 'controller'] as const) {
      const answer = await status(url, guests[role]!.cookie)
      if (least === null || roles.indexOf(role) >= roles.indexOf(least))
        expect(refusals).not.toContain(answer)
      else expect(answer).toBe(403)
    }
    expect(refusals).not.toContain(await status(running.url))
  })

  it('of the live socket takes somebody who has joined', async () => {
    await expect(openPage(url)).rejects.toThrow('401')
    await expect(openPage(url, 'page-of-nobody', 'glowchart-guest=no')).rejects.toThrow('401')
  })
})
