// Other sites' pages in a real browser, against the app and against the same app without its guard: each attack must
// get through there, or it shows nothing here.

import { writeFileSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import type { Guard } from '@glowchart/server/app/guard.ts'
import { bundleText } from '@glowchart/shared/show/bundle.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type RunningApp, runApp } from '../app/running-app.ts'
import { sampleDocuments } from '../show/samples.ts'
import { openBrowser } from '../support/browser.ts'

let browser: Browser
let site: Server
/** Names under `localhost` lead to this computer in every browser (RFC 6761 6.3), so they need no DNS to be lied to. */
let elsewhere: string

beforeAll(async () => {
  browser = await openBrowser()
  site = createServer((_request, response) => {
    response.setHeader('content-type', 'text/html').end('<!doctype html><title>Another site</title><body>')
  })
  await new Promise<void>(resolve => site.listen(0, '127.0.0.1', resolve))
  elsewhere = `http://evil.localhost:${(site.address() as AddressInfo).port}/`
}, 60_000)
afterAll(async () => {
  await browser?.close()
  site?.close()
})

/** Whether an attack got through. */
type Attack = (page: Page, running: RunningApp) => Promise<boolean>

const openShow = async ({ url }: RunningApp): Promise<string> =>
  ((await (await fetch(`${url}/api/shows`)).json()) as { open: string }).open

/** In the page: takes in the greeting with the whole show, then asks for darkness. */
const bySocket = (page: Page, url: string): Promise<string> =>
  page.evaluate(
    address =>
      new Promise<string>(resolve => {
        const socket = new WebSocket(address)
        socket.onmessage = ({ data }) => {
          const message = JSON.parse(data as string) as { type: string; seq?: number }
          if (message.type === 'hello') {
            socket.send(JSON.stringify({ type: 'live', seq: 7, live: { blackout: true } }))
          }
          if (message.seq === 7) resolve(message.type)
        }
        socket.onerror = () => resolve('no socket')
      }),
    `${url.replace('http', 'ws')}/live`,
  )
const wentDark = ({ engine }: RunningApp): boolean => JSON.stringify(engine.asked).includes('"blackout":true')

const attacks: Record<string, Attack> = {
  'a script that posts, and need not read the answer, opens another show': async (page, running) => {
    await page.goto(elsewhere)
    await page.evaluate(
      url => fetch(url, { method: 'POST', mode: 'no-cors' }).catch(() => {}),
      `${running.url}/api/open?show=tin`,
    )
    return (await openShow(running)) === 'tin'
  },
  'a form that is sent opens another show': async (page, running) => {
    await page.goto(elsewhere)
    await page.setContent(
      `<form method="post" enctype="text/plain" action="${running.url}/api/open?show=tin"><button>Win</button></form>`,
    )
    await Promise.all([page.waitForURL('**/api/open**'), page.click('button')])
    return (await openShow(running)) === 'tin'
  },
  'a live socket reads the show and makes it dark': async (page, running) => {
    await page.goto(elsewhere)
    return (await bySocket(page, running.url)) === 'done' && wentDark(running)
  },
  'an image shows that the app is there, and what it has': async (page, running) => {
    writeFileSync(
      join(running.page, 'sign.svg'),
      '<svg xmlns="http://www.w3.org/2000/svg" width="7" height="7"/>',
    )
    await page.goto(elsewhere)
    return page.evaluate(
      src =>
        new Promise<boolean>(resolve => {
          const image = new Image()
          image.onload = () => resolve(image.width === 7)
          image.onerror = () => resolve(false)
          image.src = src
        }),
      `${running.url}/sign.svg`,
    )
  },
  'a name that was made to point here reads the show': async (page, running) => {
    const name = running.url.replace('localhost', 'rebound.localhost')
    await page.goto(name)
    const text = await page.evaluate(async () => (await fetch('/api/export')).text())
    return text.includes('Moth Cabinet')
  },
  'a name that was made to point here makes it dark': async (page, running) => {
    const name = running.url.replace('localhost', 'rebound.localhost')
    await page.goto(name)
    return (await bySocket(page, name)) === 'done' && wentDark(running)
  },
}

async function getsThrough(attack: Attack, guard?: Guard): Promise<boolean> {
  const running = await runApp(guard && { guard })
  const { rig, show } = sampleDocuments()
  const other = bundleText({ rig, show: { ...show, id: 'tin', name: 'Tin Orchard' } })
  await fetch(`${running.url}/api/import`, { method: 'POST', body: other })
  await fetch(`${running.url}/api/open?show=moth-cabinet`, { method: 'POST' })
  const page = await browser.newPage()
  try {
    return await attack(page, running)
  } finally {
    await page.close()
    await running.close()
  }
}

describe.each(Object.entries(attacks))('%s', (_name, attack) => {
  it('without the guard', async () => {
    expect(await getsThrough(attack, () => {})).toBe(true)
  })
  it('never with it', async () => {
    expect(await getsThrough(attack)).toBe(false)
  })
})
