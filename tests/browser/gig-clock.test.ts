// The clock at the gig on the page: an estimated song is told its section, taps and nudges, and ports that are kept.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const LONG = 60_000
let served: Served
let browser: Browser
let page: Page
let drums: Awaited<ReturnType<typeof openPage>>

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  drums = await openPage(served.url, 'test-drums')
  await page.goto(`${served.url}/#run`)
  await page.getByRole('button', { name: /^Next: / }).waitFor()
}, LONG)
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

/** A clock that sends no Start and no place; `at` on the machine's monotonic clock, which the engine stamps with. */
function pulses(): () => void {
  const now = () => Number(process.hrtime.bigint()) / 1e6
  const began = now()
  let n = 0
  const timer = setInterval(() => {
    for (; began + n * 20 <= now(); n++)
      drums.send({ type: 'midi', midi: { port: 'Drum box', at: began + n * 20, bytes: [0xf8] } })
  }, 10)
  return () => clearInterval(timer)
}

it(
  'offers the sections while the position is a guess, goes on from the one that is tapped, and says so no more',
  async () => {
    drums.send({ type: 'transport', seq: 1, transport: { do: 'clock', source: 'midi' } })
    const end = pulses()
    const guess = page.getByRole('alert').filter({ hasText: 'Position estimated' })
    await guess.waitFor({ timeout: 20_000 })
    await guess.getByRole('button', { name: 'Bridge' }).click()
    await guess.waitFor({ state: 'hidden', timeout: 20_000 })
    await page
      .getByRole('region', { name: 'Where the song is' })
      .getByText('Bridge', { exact: true })
      .waitFor()
    // The pulses go on to move it.
    await page.getByText(/^bar 1\.[234]/).waitFor({ timeout: 20_000 })
    end()
  },
  LONG,
)

it(
  'sets the speed by taps on the keyboard, on our own clock',
  async () => {
    drums.send({ type: 'transport', seq: 2, transport: { do: 'clock', source: 'internal' } })
    await page.getByText('Own clock').waitFor({ timeout: 20_000 })
    for (let i = 0; i < 4; i++) {
      await page.keyboard.press('t')
      await page.waitForTimeout(500)
    }
    // As fast as the keys came, in whole: the engine's own figure is tested without a browser.
    await page.waitForFunction(
      () => !document.querySelector('.health')?.textContent?.includes('112.0'),
      undefined,
      { timeout: 20_000 },
    )
  },
  LONG,
)

it(
  'keeps the port that MIDI clock goes to with the server',
  async () => {
    drums.send({ type: 'midiChoice', seq: 3, choice: { clockFrom: null, clockTo: 'Synth' } })
    await page.keyboard.press('m')
    const choice = page.getByLabel('MIDI clock to')
    await expect.poll(() => choice.inputValue(), { timeout: 20_000 }).toBe('Synth')
    await choice.selectOption({ label: 'Nobody' })
    const kept = () => JSON.parse(readFileSync(join(served.data, 'midi.json'), 'utf8'))
    await expect.poll(kept, { timeout: 20_000 }).toEqual({ clockFrom: null, clockTo: null })
  },
  LONG,
)
