// A longer strip in a real browser: amps on the workbench, advice, the preview under an armed limit, and paper all follow.

import { decodeFrame } from '@glowchart/shared/frame.ts'
import { ampsOfLevels, powerPlan } from '@glowchart/shared/power/plan.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
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

/** The levels of a frame that the engine has sent since. */
async function levelsNow(): Promise<Uint8Array> {
  const seen = desk.frames.length
  await expect.poll(() => desk.frames.length, { timeout: 10_000 }).toBeGreaterThan(seen + 2)
  return decodeFrame(desk.frames.at(-1)!)!.levels
}

/** Amps that Box A gives now. */
async function ampsNow(): Promise<number> {
  const { rig, show } = desk.hello
  const kit = show.kits.full!
  const plan = levelPlan(rig, kit)
  const power = powerPlan(rig, kit, plan)
  const amps = new Float64Array(power.boxes.length)
  ampsOfLevels(plan, power, await levelsNow(), amps)
  return amps[power.boxes.indexOf('left')]!
}

/** The slots of the tubes on Box A, added up. */
async function tubesLight(): Promise<number> {
  const { rig, show } = desk.hello
  const slots = patch(rig, show.kits.full!)
    .entries.filter(({ fixture, box }) => box === 'left' && fixture.startsWith('tube'))
    .flatMap(({ address }) => [address - 1, address, address + 1])
  const levels = await levelsNow()
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

/** The build sheet of the tube, once it says how its strip is cut. */
async function buildSheet(cut: RegExp): Promise<string> {
  await goTo('paper')
  await page.getByRole('button', { name: 'Tube, 1.2 m', exact: true }).click()
  await page
    .locator('.paper-page')
    .filter({ hasText: 'Build sheet' })
    .filter({ hasText: cut })
    .first()
    .waitFor()
  return (await page.locator('.paper-page').first().textContent())!
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
    const amps = Math.round((await ampsNow()) * 100) / 100 + 0.2
    await desk.ask({ type: 'edit', edit: 'setPowerLimit', args: { kit: 'full', box: 'left', amps } })
    await strip('1.2', '1.44 A')
    const light = await tubesLight()
    expect(light).toBeGreaterThan(100)
    const short = await buildSheet(/Cut 24 whole segments/)
    expect(short).toMatch(/everything on\s*1\.44 A/)

    // 5 m of 60 LEDs a metre, three in series: 100 segments of 60 mA.
    await strip('5', '6.00 A')
    // Dimmed by the limit, once the engine has the edit.
    await expect.poll(tubesLight, { timeout: 20_000 }).toBeLessThan(light * 0.8)
    await goTo('chart')
    await page.getByRole('button', { name: /^Advice, \d+ marks?$/ }).click()
    await page
      .getByText(/the common contact carries 6 A of 5 A/)
      .first()
      .waitFor()
    expect(await buildSheet(/Cut 100 whole segments/)).toMatch(/everything on\s*6(\.0+)? A/)

    await strip('1.2', '1.44 A')
    await expect.poll(tubesLight, { timeout: 20_000 }).toBe(light)
    expect(await buildSheet(/Cut 24 whole segments/)).toBe(short)
  },
  SLOW,
)
