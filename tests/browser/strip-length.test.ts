// A longer strip in a real browser: amps on the workbench, advice, the preview under an armed limit, and paper all follow.

import { decodeFrame } from '@glowchart/shared/frame.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const SLOW = 120_000
let served: Served
let browser: Browser
let page: Page
let desk: PageSocket

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(30_000)
  desk = await openPage(served.url, 'test-desk')
}, SLOW)
afterAll(async () => {
  desk?.close()
  await browser?.close()
  await served?.close()
})

const goTo = (place: string) => page.goto(`${served.url}/#${place}`)

/** The slots of the tubes on Box A, added up, in a frame that the engine has sent since. */
async function tubesLight(): Promise<number> {
  const { rig, show } = desk.hello
  const slots = patch(rig, show.kits.full!)
    .entries.filter(({ fixture, box }) => box === 'left' && fixture.startsWith('tube'))
    .flatMap(({ address }) => [address - 1, address, address + 1])
  const seen = desk.frames.length
  await expect.poll(() => desk.frames.length, { timeout: 10_000 }).toBeGreaterThan(seen + 2)
  const { levels } = decodeFrame(desk.frames.at(-1)!)!
  return slots.reduce((sum, slot) => sum + levels[slot]!, 0)
}

/** Types the metres of strip in the tube, and waits until it is kept. */
async function strip(metres: string, amps: string): Promise<void> {
  await goTo('workbench')
  await page
    .getByRole('navigation', { name: 'What is owned' })
    .getByRole('button', { name: /^Tube, 1\.2 m/ })
    .click()
  await page.getByLabel('Strip in it, m', { exact: true }).fill(metres)
  await page.keyboard.press('Enter')
  await page.getByRole('region', { name: 'Draws, full on' }).getByText(amps).waitFor()
  await page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
}

/** The text of a sheet as it would be printed. */
async function sheet(name: RegExp): Promise<string> {
  await goTo('paper')
  await page.getByRole('button', { name }).first().click()
  const text = page.locator('.paper-page').first()
  await text.waitFor()
  return (await page.locator('.paper-page').allTextContents()).join(' ')
}

it(
  'everything follows the length of strip in a build, and comes back with it',
  async () => {
    // The first song stands where all tubes are lit, under a limit that it keeps as the tubes are.
    const { show } = desk.hello
    const song = show.songOrder[0]!
    const at = barStart(timelineOf(show.songs[song]!).meters, 70)
    desk.send({ type: 'frames', on: true })
    await desk.ask({ type: 'transport', transport: { do: 'song', song, at } })
    await desk.ask({ type: 'edit', edit: 'setPowerLimit', args: { kit: 'full', box: 'left', amps: 6 } })
    await strip('1.2', '1.44 A')
    const light = await tubesLight()
    expect(light).toBeGreaterThan(100)
    const short = await sheet(/Tube, 1\.2 m/)
    expect(short).toContain('1.44')

    // 5 m of 60 LEDs a metre, three in series: 100 segments of 60 mA.
    await strip('5', '6.00 A')
    expect(await tubesLight(), 'the preview is dimmed by the limit').toBeLessThan(light * 0.8)
    await goTo('chart')
    await page.getByRole('button', { name: /^Advice, \d+ marks?$/ }).click()
    await page
      .getByText(/the common contact carries 6 A of 5 A/)
      .first()
      .waitFor()
    const long = await sheet(/Tube, 1\.2 m/)
    expect(long).not.toContain('1.44')
    expect(long).toMatch(/6(\.0+)? A/)

    await strip('1.2', '1.44 A')
    expect(await tubesLight()).toBe(light)
    expect(await sheet(/Tube, 1\.2 m/)).toBe(short)
  },
  SLOW,
)
