// The main job as a newcomer does it, in a real browser: open, play, see the stage light up in time, locate, stop.

import type { Browser, Locator, Page } from 'playwright-core'
import { PNG } from 'pngjs'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { picture } from '../support/picture.ts'
import { processesOf, type Served, serveDemo } from '../support/processes.ts'

let served: Served
let browser: Browser
let page: Page
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.on('pageerror', error => faults.push(String(error)))
  page.on('console', message => message.type() === 'error' && faults.push(message.text()))
  await page.goto(served.url)
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

/** Mean of the brightest channel over a picture, 0…255. */
async function brightness(of: Locator): Promise<number> {
  const { data } = PNG.sync.read(await of.screenshot())
  let sum = 0
  for (let i = 0; i < data.length; i += 4) sum += Math.max(data[i]!, data[i + 1]!, data[i + 2]!)
  return sum / (data.length / 4)
}

const stage = (): Locator => page.getByRole('region', { name: 'Stage' })
const place = async (): Promise<{ bar: number; beat: number }> => {
  const text = await page.getByRole('status', { name: 'Position' }).textContent()
  const [bar, beat] = (text ?? '').trim().split('.').map(Number)
  return { bar: bar!, beat: beat! }
}

describe('a newcomer in a browser', () => {
  it('finds the demo songs, and nothing is sent anywhere yet', async () => {
    const songs = page.getByRole('list', { name: 'Songs' })
    await songs.getByText('Porchlight Arithmetic').waitFor()
    expect(await songs.getByRole('listitem').count()).toBe(4)
    await page.getByText('Output off').first().waitFor()
  })

  it('goes to the chorus, presses play, and sees the stage light up in time with the engine', async () => {
    const engine = await openPage(served.url, 'test-watcher')
    const dark = await brightness(stage())
    await page
      .getByRole('spinbutton', { name: /bar/i })
      .or(page.getByRole('textbox', { name: /bar/i }))
      .first()
      .fill('25')
    await page.keyboard.press('Enter')
    await engine.status(status => status.position === 24 * 3840)
    await page.getByRole('button', { name: 'Play', exact: true }).click()
    await engine.status(status => status.playing)
    const levels: number[] = []
    for (let i = 0; i < 8; i++) {
      const status = await engine.status(() => true)
      const shown = await place()
      const bar = Math.floor(status.position / 3840) + 1
      // A beat may begin between the status and the look at the page.
      expect(
        Math.abs((shown.bar - bar) * 4 + shown.beat - 1 - Math.floor((status.position % 3840) / 960)),
      ).toBeLessThanOrEqual(1)
      levels.push(await brightness(stage()))
    }
    await picture(page, 'chart-1440x900')
    expect(Math.max(...levels)).toBeGreaterThan(dark * 1.2)
    expect(new Set(levels.map(level => level.toFixed(2))).size).toBeGreaterThan(3)
    engine.close()
  })

  it('stops with the same button, and the look stays', async () => {
    const engine = await openPage(served.url, 'test-watcher')
    await page.getByRole('button', { name: 'Stop', exact: true }).click()
    await engine.status(status => !status.playing)
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor()
    const before = await place()
    const level = await brightness(stage())
    expect(level).toBeGreaterThan(5)
    expect(await place()).toEqual(before)
    engine.close()
  })

  it('plays, goes to the start and stops with the keyboard alone', async () => {
    const engine = await openPage(served.url, 'test-watcher')
    await page.locator('body').press('Home')
    await engine.status(status => status.position === 0)
    await page.locator('body').press('Space')
    await engine.status(status => status.playing && status.position > 960)
    await page.locator('body').press('Space')
    await engine.status(status => !status.playing)
    engine.close()
  })

  it('works at phone width: stage, position, play', async () => {
    const phone = await browser.newPage({ viewport: { width: 390, height: 844 } })
    await phone.goto(served.url)
    await phone.getByRole('button', { name: 'Play', exact: true }).click()
    await phone.getByRole('button', { name: 'Stop', exact: true }).waitFor()
    await picture(phone, 'chart-390x844')
    const wide = await phone.evaluate(() => document.documentElement.scrollWidth)
    expect(wide).toBeLessThanOrEqual(390)
    await phone.getByRole('button', { name: 'Stop', exact: true }).click()
    await phone.getByRole('button', { name: 'Play', exact: true }).waitFor()
    await phone.close()
  })

  it.skipIf(process.platform === 'win32')(
    'says so when the server is gone, and comes back by itself',
    async () => {
      expect(faults).toEqual([])
      process.kill(processesOf(served).app, 'SIGKILL')
      const alarm = page.getByText('Not connected', { exact: true })
      await alarm.waitFor()
      await alarm.waitFor({ state: 'detached' })
      await page.getByRole('button', { name: 'Play', exact: true }).waitFor()
    },
  )
})
