// Listening to a song in a real browser: a band that plays and falls silent, a click on the light's beat, a count-in.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { clicksIn } from '@glowchart/shared/score/clicks.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { within } from '../bench/figures.ts'
import { openBrowser } from '../support/browser.ts'
import { clicksAgainstFrames } from '../support/clicks.ts'
import { type Ear, earAt } from '../support/ear.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const song = timelineOf(demoBundle().show.songs.porchlight!)
let served: Served
let browser: Browser
let page: Page
let ear: Ear
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
})
beforeEach(async () => {
  const context = await browser.newContext({ bypassCSP: true, viewport: { width: 1440, height: 900 } })
  page = await context.newPage()
  page.on('pageerror', error => faults.push(String(error)))
  page.on('console', message => message.type() === 'error' && faults.push(message.text()))
  ear = await earAt(page)
  await page.goto(served.url)
  await page.getByRole('list', { name: 'Songs' }).getByText('Porchlight Arithmetic').waitFor()
})
afterEach(async () => {
  await page.context().close()
  expect(faults).toEqual([])
})

const button = (name: string) => page.getByRole('button', { name, exact: true })
const now = () => page.evaluate(() => performance.now())
/** Waits until the song has gone on to a bar (1-based). */
const untilBar = (bar: number) =>
  page.waitForFunction(
    bar =>
      Number.parseInt(document.querySelector('output[aria-label="Position"]')?.textContent ?? '', 10) >= bar,
    bar,
  )

/** Opens the sound panel and chooses there. */
async function choose(how: { score?: boolean; click?: boolean; countIn?: string }): Promise<void> {
  await page.getByRole('button', { name: /^Sound/ }).click()
  const panel = page.getByRole('dialog', { name: 'Sound' })
  if (how.score !== undefined) await panel.getByRole('checkbox', { name: 'Score' }).setChecked(how.score)
  if (how.click !== undefined) await panel.getByRole('checkbox', { name: 'Click' }).setChecked(how.click)
  if (how.countIn) await panel.getByRole('radio', { name: how.countIn }).check()
  await page.keyboard.press('Escape')
}

describe('audition of a demo song with no output chosen', () => {
  it('is heard from the first press of play, and silent within 200 ms of stop', async () => {
    await button('Play').click()
    await untilBar(4)
    await button('Stop').click()
    const stopped = await now()
    await page.waitForTimeout(1000)
    const loudness = await ear.loudness()
    const first = (await ear.frames()).find(f => f.playing)!.due
    const playing = loudness.filter(l => l.at > first + 500 && l.at < stopped)
    expect(playing.length).toBeGreaterThan(100)
    expect(
      within(
        playing.map(l => l.rms),
        0.5,
      ),
    ).toBeGreaterThan(0.003)
    const after = loudness.filter(l => l.at > stopped + 200)
    expect(after.length).toBeGreaterThan(20)
    expect(Math.max(...after.map(l => l.rms))).toBe(0)
  })

  it('clicks with the light, for some seconds: not further from the frame of its beat than anybody could notice', async () => {
    await choose({ score: false, click: true })
    await page.keyboard.press('Home')
    await button('Play').click()
    await untilBar(4)
    await button('Stop').click()
    // The first second brings Tone and the ear.
    const beats = clicksIn(song.meters, ticks(3840), ticks(3 * 3840)).map(c => c.at)
    const heard = clicksAgainstFrames(beats, await ear.onsets(), await ear.frames(), song.tempo)
    // Kept from its work for longer than it looks ahead, a page leaves a click out rather than play it late.
    expect(heard.missed).toBeLessThanOrEqual(1)
    expect(heard.beat.length + heard.missed).toBe(8)
    expect(within(heard.beat.map(Math.abs), 0.5)).toBeLessThan(5)
    // ITU-R BT.1359-1: sound 45 ms before the picture is detectable.
    // (A frame that the machine kept back would count as late light; one in ten may be.)
    expect(within(heard.frame.map(Math.abs), 0.9)).toBeLessThan(45)
  })

  it('counts two bars in before the light moves, and then goes on clicking', async () => {
    await choose({ score: false, click: true, countIn: '2 bars' })
    await page.keyboard.press('Home')
    // Once before, so that the ear is there.
    await button('Play').click()
    await button('Stop').click()
    await page.waitForTimeout(400)
    const from = await now()
    await button('Play').click()
    await untilBar(2)
    await button('Stop').click()
    const first = (await ear.frames()).find(f => f.playing && f.due > from)!.due
    const onsets = (await ear.onsets()).filter(at => at > from).map(at => at - first)
    const beat = 60_000 / 112
    const counted = onsets.filter(at => at < -beat / 2)
    expect(counted).toHaveLength(8)
    for (const [i, at] of counted.entries()) expect(Math.abs(at - (i - 8) * beat)).toBeLessThan(15)
  })
})
