// The browser's own MIDI ports: bytes that arrive in the page drive the engine's clock, mapped to its time.

import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

let served: Served
let browser: Browser
let page: Page
let engine: PageSocket
beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage()
  await page.addInitScript(plugInClock)
  await page.goto(served.url)
  engine = await openPage(served.url, 'test-watcher')
  await page.getByLabel('Clock', { exact: true }).selectOption({ label: 'MIDI clock' })
  await page.getByRole('button', { name: 'Use this computer' }).click()
})
afterAll(async () => {
  engine?.close()
  await browser?.close()
  await served?.close()
})

/**
 * Web MIDI fails on a machine with no MIDI device even with leave, so the page is given a port that plays at 96 BPM,
 * and of which the cable is out while `cableOut` is set on the window.
 */
function plugInClock(): void {
  const input = {
    name: 'Test clock',
    onmidimessage: null as ((event: { timeStamp: number; data: Uint8Array }) => void) | null,
  }
  const access = { inputs: new Map([['a', input]]), onstatechange: null }
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: () => Promise.resolve(access) })
  const pulse = 60_000 / 96 / 24
  let began: number | null = null
  let sent = 0
  setInterval(() => {
    if (!input.onmidimessage) return
    const now = performance.now()
    if (began === null) {
      began = now
      input.onmidimessage({ timeStamp: now - 1, data: new Uint8Array([0xfa]) })
    }
    // Late by the timer's whims, but stamped when it was due: as a driver does.
    for (; began + sent * pulse <= now; sent++) {
      if ('cableOut' in window) continue
      input.onmidimessage({ timeStamp: began + sent * pulse, data: new Uint8Array([0xf8]) })
    }
  }, 7)
}

it('follows MIDI clock that comes in through the page', async () => {
  await page.getByRole('button', { name: 'Test clock' }).waitFor()
  // Locked after few pulses, the tempo still comes nearer: the page's timers jitter.
  const locked = await engine.status(
    ({ clock, playing }) => clock.lock === 'locked' && playing && Math.abs(clock.bpm - 96) < 2,
  )
  const later = await engine.status(status => status.at > locked.at + 2000)
  // Within a sixteenth, however late a busy machine's timers bring the bytes.
  const beats = (later.position - locked.position) / 960
  expect(Math.abs(beats - ((later.at - locked.at) / 1000) * (96 / 60))).toBeLessThan(0.25)
}, 20_000)

it('keeps the ports open while the clock is lost, and locks again when its pulses come back', async () => {
  await engine.status(status => status.clock.lock === 'locked' && status.playing)
  await page.evaluate(() => Object.assign(window, { cableOut: true }))
  await engine.status(status => status.clock.lock === 'lost' && status.playing)
  await page.getByRole('alert').getByText('MIDI clock lost').waitFor()
  // Another clock can be chosen while it is lost, and the ports are still ours.
  expect(await page.getByLabel('Clock', { exact: true }).isVisible()).toBe(true)
  expect(await page.getByRole('button', { name: 'Test clock' }).getAttribute('aria-pressed')).toBe('true')
  await page.evaluate(() => Reflect.deleteProperty(window, 'cableOut'))
  await engine.status(
    ({ clock, playing }) => clock.lock === 'locked' && playing && Math.abs(clock.bpm - 96) < 2,
  )
  await page.getByRole('alert').waitFor({ state: 'detached' })
}, 20_000)
