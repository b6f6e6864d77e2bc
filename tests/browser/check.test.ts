// The line check on a phone, in a real browser against the real engine: what it raises is read from the packets it sends.

import { once } from 'node:events'
import { patch } from '@glowchart/shared/rig/patch.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { type Inbox, openInbox } from '../support/inbox.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

let served: Served
let browser: Browser
let inbox: Inbox
let desk: PageSocket
let page: Page

beforeAll(async () => {
  ;[served, browser, inbox] = await Promise.all([serveDemo(), openBrowser(), openInbox()])
  desk = await openPage(served.url, 'test-check-1')
  // The engine may be slower to come than the app.
  await desk.status(({ song }) => song !== null)
  const to = {
    protocol: 'artnet',
    host: '127.0.0.1',
    port: inbox.port,
    portAddress: 0,
    mode: 'every',
  } as const
  const output = { ...desk.hello.show.output, routes: [{ universe: 1, to }] }
  expect(await desk.ask({ type: 'output', output })).toMatchObject({ type: 'done' })
  page = await phone()
})
// As if it had been opened anew; a page that is new to the browser costs twice as much of the machine.
afterEach(async () => {
  if (page.isClosed()) page = await phone()
  await page.goto(`${served.url}/#check`)
  await page.reload()
  await page.getByRole('heading', { name: 'Ready' }).waitFor()
})
afterAll(async () => {
  desk?.close()
  await browser?.close()
  await served?.close()
  await inbox?.close()
})

async function phone(): Promise<Page> {
  const fresh = await browser.newPage({ viewport: { width: 390, height: 844 }, hasTouch: true })
  await fresh.goto(`${served.url}/#check`)
  await fresh.getByRole('heading', { name: 'Ready' }).waitFor()
  return fresh
}

/** Slots of a packet that are not 0, 1-based; null where it is no ArtDmx (Art-Net 4: OpCode 0x5000, data from 18). */
function lit(packet: Buffer): Record<number, number> | null {
  if (packet.toString('latin1', 0, 7) !== 'Art-Net' || packet.readUInt16LE(8) !== 0x5000) return null
  return Object.fromEntries(
    [...packet.subarray(18)].flatMap((value, i) => (value > 0 ? [[i + 1, value]] : [])),
  )
}

/** Resolves when a packet with exactly these slots comes in, with the page time it came, ms. */
async function onTheWire(slots: Record<number, number>): Promise<number> {
  const wanted = JSON.stringify(slots)
  const from = inbox.packets.length
  for (let i = from; ; i++) {
    while (inbox.packets.length <= i) await once(inbox.socket, 'kept')
    if (JSON.stringify(lit(inbox.packets[i]!)) === wanted) return performance.now()
  }
}

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' })
const begin = () => page.locator('.begin .v').last()
const full = (...slots: number[]) => Object.fromEntries(slots.map(slot => [slot, 255]))

/** Begins at the first socket, with the channels stepped by hand. */
async function beginByHand(): Promise<void> {
  await begin().tap()
  await page.getByRole('switch', { name: /^Step/ }).tap()
  await button(/^red/).tap()
}

describe('a line check on a phone', () => {
  it('drives the right three slots on the wire, socket by socket, and is dark when it ends', async () => {
    const { rig, show } = desk.hello
    const { entries } = patch(rig, show.kits[show.tonight]!)
    expect(entries).toHaveLength(16)
    await beginByHand()
    for (const { address, channels } of entries) {
      for (const colour of ['red', 'green', 'blue'] as const) {
        const arrives = onTheWire(full(address + channels.findIndex(({ does }) => does === colour)))
        await button(new RegExp(`^${colour}`)).tap()
        await arrives
      }
      const arrives = onTheWire(full(address, address + 1, address + 2))
      await button(/^white/).tap()
      await arrives
      await button('Pass').tap()
    }
    const arrives = onTheWire({})
    await page.getByText('All 16 passed. The lights are dark.').waitFor()
    await arrives
    const status = await desk.status(({ check }) => check === 'dark')
    expect(status.playing).toBe(false)
  })

  it('steps red, green, blue and white by itself, a second each', async () => {
    const red = onTheWire(full(1))
    const green = onTheWire(full(2))
    const blue = onTheWire(full(3))
    const white = onTheWire(full(1, 2, 3))
    await begin().tap()
    const at = [await red, await green, await blue, await white]
    for (let i = 1; i < 4; i++) {
      expect(at[i]! - at[i - 1]!).toBeGreaterThan(500)
      expect(at[i]! - at[i - 1]!).toBeLessThan(2500)
    }
  })

  it('falls dark 2 s after the page was last heard', async () => {
    const arrives = onTheWire(full(1))
    await beginByHand()
    await arrives
    const dark = onTheWire({})
    // The network goes away under the page; the socket stays open as far as the server knows.
    const frozen = await page.context().newCDPSession(page)
    await frozen.send('Debugger.enable')
    await frozen.send('Debugger.pause')
    const from = performance.now()
    const after = (await dark) - from
    // Up to one beat of 500 ms may have passed since it was last heard, and a frame is 25 ms.
    expect(after).toBeGreaterThan(1200)
    expect(after).toBeLessThan(3000)
    await frozen.send('Debugger.resume')
    await frozen.detach()
  })

  it('keeps a failed light up while its fault is looked for, and is dark when that is left', async () => {
    const arrives = onTheWire(full(1))
    await beginByHand()
    await arrives
    await button('Fail').tap()
    await page.getByRole('heading', { name: 'What did you see?' }).waitFor()
    await onTheWire(full(1))
    await button('Only its red stays dark').tap()
    await onTheWire(full(1))
    await button('No, it is dark there too').tap()
    const dark = onTheWire({})
    await button('Write it down, dark').tap()
    await dark
    // The fault stays with the serial, and comes up again.
    await page.reload()
    await page.getByRole('heading', { name: 'Open from last time' }).waitFor()
    await page.getByText(/OH-001.*No red/).waitFor()
    await page.getByText(/of 16, one to fix/).waitFor()
    // It passes: the fault is asked about, and closed.
    await button('Check what failed').tap()
    await button('Pass').tap()
    await button('Mended, close it').tap()
    await page.reload()
    await page.getByRole('heading', { name: 'Ready' }).waitFor()
    await page.getByText('Open from last time').waitFor({ state: 'detached' })
  })

  it('is dark at once when the page is closed, and when the place is left', async () => {
    for (const leave of [
      () => page.close(),
      () => page.getByLabel('Place', { exact: true }).selectOption('chart'),
    ]) {
      const arrives = onTheWire(full(1))
      await beginByHand()
      await arrives
      const dark = onTheWire({})
      const from = performance.now()
      await leave()
      expect((await dark) - from).toBeLessThan(1900)
      await page.close()
      page = await phone()
    }
  })

  it('glows for plugging up, a little on every slot of every socket', async () => {
    const glow = Object.fromEntries(Array.from({ length: 48 }, (_, i) => [i + 1, 31]))
    const arrives = onTheWire(glow)
    await page.getByRole('switch', { name: 'Glow for plugging up' }).tap()
    await arrives
    await page.getByText(/Turned by 1 of 4: stays dark/).waitFor()
    const dark = onTheWire({})
    await page.getByRole('switch', { name: 'Glow for plugging up' }).tap()
    await dark
  })

  it('never darkens a song that plays: it says so, and stops it when asked', async () => {
    const song = desk.hello.show.songOrder[0]!
    await desk.ask({ type: 'transport', transport: { do: 'song', song, at: 0 } })
    await desk.ask({ type: 'transport', transport: { do: 'play' } })
    await page.getByText(/A song is playing/).waitFor()
    await beginByHand()
    await desk.status(({ check, playing }) => playing && check === 'off')
    const arrives = onTheWire(full(1))
    await button('Stop the song').tap()
    await arrives
  })

  it('passes by a swipe to the right and by Space, fails by a swipe to the left, and takes a pass back', async () => {
    await beginByHand()
    const heading = (name: string) => page.getByRole('heading', { name, level: 2, exact: true }).waitFor()
    await heading('Oh 1')
    await page.keyboard.press('Space')
    await heading('Oh 2')
    const touch = await page.context().newCDPSession(page)
    const swipe = async (from: number, to: number) => {
      const points = (x: number) => [{ x, y: 300 }]
      await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: points(from) })
      await touch.send('Input.dispatchTouchEvent', {
        type: 'touchMove',
        touchPoints: points((from + to) / 2),
      })
      await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: points(to) })
      await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    }
    await button('Take back pass').tap()
    await heading('Oh 1')
    await swipe(80, 300)
    await heading('Oh 2')
    await page.keyboard.press('u')
    await heading('Oh 1')
    await swipe(300, 80)
    await page.getByRole('heading', { name: 'What did you see?' }).waitFor()
    await page.keyboard.press('Escape')
    await button('Pass').waitFor()
  })

  it('has targets of 56 px and nothing wider than the phone', async () => {
    const small = async () =>
      page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>('.check > :not(.brand) button')]
          .map(element => ({ says: element.textContent, box: element.getBoundingClientRect() }))
          .filter(({ box }) => Math.min(box.width, box.height) < 55.5)
          .map(({ says }) => says),
      )
    expect(await small()).toEqual([])
    await beginByHand()
    expect(await small()).toEqual([])
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
    const pass = await button('Pass').boundingBox()
    expect(pass!.y + pass!.height).toBeLessThanOrEqual(844)
    await button('Fail').tap()
    expect(await small()).toEqual([])
  })
})
