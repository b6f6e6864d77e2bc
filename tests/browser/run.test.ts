// The run page in a real browser: its guard, countdown and blackout, and that it can be read and pressed on a stage and on a phone.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { picture } from '../support/picture.ts'
import { killAll, type Served, serveDemo, tempFolder } from '../support/processes.ts'

const LONG = 60_000
const folder = tempFolder()
let served: Served
let browser: Browser
let page: Page
let seq = 1000
let engine: Awaited<ReturnType<typeof openPage>>
const faults: string[] = []
const { show } = demoBundle()

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo([], {}, folder), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.on('pageerror', error => faults.push(String(error)))
  engine = await openPage(served.url, 'test-watcher')
  await page.goto(`${served.url}/#run`)
  await page.getByRole('button', { name: /^Next: / }).waitFor()
}, LONG)
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

const nextSays = (says: RegExp) =>
  page.getByRole('button', { name: new RegExp(`^Next: .*${says.source}`) }).waitFor({ timeout: 20_000 })
const timer = () => page.getByRole('timer')
describe('the run page', () => {
  it(
    'needs a held key while the guard is on, and a mere touch does nothing',
    async () => {
      await nextSays(/Start Porchlight/)
      await page.keyboard.press('Space')
      await page.getByRole('button', { name: /^Next: / }).click()
      await page.locator('.blackout').click()
      // What was pressed by hand has not the next Space, which a pedal may type.
      expect(await page.evaluate(() => document.activeElement === document.body)).toBe(true)
      await nextSays(/Start Porchlight/)
      await page.keyboard.down('Space')
      await nextSays(/Play Intro once more/)
      await page.keyboard.up('Space')
      await page.keyboard.press('g')
      await page.getByRole('button', { name: 'Guard lifted: put it on' }).waitFor()
      await page.keyboard.press('s')
      await nextSays(/Go on from bar/)
      await page.keyboard.press('g')
      await page.getByRole('button', { name: 'Guard on: lift it' }).waitFor()
    },
    LONG,
  )

  it(
    'counts down bars and beats to the next section, and beats alone in the last bar',
    async () => {
      await page.keyboard.press('PageDown')
      await nextSays(/once more/)
      await expect.poll(() => timer().getAttribute('aria-label')).toMatch(/^\d bars \d beats to Verse 1$/)
      const { end } = timelineOf(show.songs.porchlight!).sections[0]!
      engine.send({ type: 'transport', seq: seq++, transport: { do: 'locate', at: end - 3600 } })
      await expect
        .poll(() => timer().getAttribute('aria-label'), { interval: 50 })
        .toMatch(/^[1-4] beats to Verse 1$/)
      await picture(page, 'run')
    },
    LONG,
  )

  it(
    'darkens while the pedal is held, latches by a held key, and restores by one press',
    async () => {
      const dark = () =>
        page.evaluate(() => document.querySelector('.blackout')?.getAttribute('aria-pressed'))
      await page.keyboard.down('Home')
      await expect.poll(dark).toBe('true')
      await page.keyboard.up('Home')
      await expect.poll(dark).toBe('false')
      await page.keyboard.press('b')
      expect(await dark()).toBe('false')
      await page.keyboard.down('b')
      await expect.poll(dark).toBe('true')
      await page.keyboard.up('b')
      expect(await dark()).toBe('true')
      await page.keyboard.press('b')
      await expect.poll(dark).toBe('false')
    },
    LONG,
  )

  it(
    'goes on by key from where somebody else has set the master',
    async () => {
      const master = page.getByRole('slider', { name: 'Grand' })
      await master.focus()
      await page.keyboard.press('ArrowLeft')
      await expect.poll(() => master.inputValue()).toBe('99')
      engine.send({ type: 'live', seq: seq++, live: { grand: 0.4 } })
      await expect.poll(() => master.inputValue()).toBe('40')
      engine.send({ type: 'live', seq: seq++, live: { grand: 1 } })
      await expect.poll(() => master.inputValue()).toBe('100')
    },
    LONG,
  )

  it(
    'has nothing under 21 px to read, and nothing under 88 px to touch',
    async () => {
      await page.keyboard.press('m')
      await page.getByRole('region', { name: 'More' }).waitFor()
      const small = await page.evaluate(() => {
        const found: string[] = []
        for (const element of document.querySelectorAll<HTMLElement>('.run *')) {
          if (element.closest('.sr, svg, select') || element.offsetParent === null) continue
          const says = [...element.childNodes].some(n => n.nodeType === 3 && n.textContent?.trim())
          if (says && Number.parseFloat(getComputedStyle(element).fontSize) < 21)
            found.push(`text ${element.textContent}`)
          if (element.matches('button') && element.offsetHeight < 88)
            found.push(`button ${element.textContent}`)
        }
        return found
      })
      expect(small).toEqual([])
    },
    LONG,
  )

  it(
    'works on a phone, with the pedals in sight and nothing wider than the page',
    async () => {
      await page.setViewportSize({ width: 390, height: 844 })
      await page.keyboard.press('m')
      await page.getByRole('button', { name: /^Next: / }).waitFor()
      const seen = await page.evaluate(() => {
        const { top, bottom } = document.querySelector('.onward')!.getBoundingClientRect()
        return { top, bottom, wide: document.documentElement.scrollWidth }
      })
      expect(seen.wide).toBeLessThanOrEqual(390)
      expect(seen.bottom).toBeLessThanOrEqual(844)
      await timer().waitFor()
      await picture(page, 'run-phone')
      // On its side the count still stands over what is pressed.
      await page.setViewportSize({ width: 844, height: 390 })
      const [count, hands] = await Promise.all([timer().boundingBox(), page.locator('.hands').boundingBox()])
      expect(count!.y + count!.height).toBeLessThanOrEqual(hands!.y + 1)
      await page.setViewportSize({ width: 390, height: 844 })
    },
    LONG,
  )

  it.skipIf(process.platform === 'win32')(
    'goes on after a restart of the laptop by one press: song, place and masters are back, and a second press plays',
    async () => {
      const at = timelineOf(show.songs.porchlight!).sections[2]!.start
      await engine.ask({ type: 'live', live: { grand: 0.75 } })
      await engine.ask({ type: 'transport', transport: { do: 'locate', at } })
      const left = () => JSON.parse(readFileSync(join(folder.path, 'left.json'), 'utf8'))
      await expect.poll(() => left().position > at, { timeout: 20_000 }).toBe(true)
      await killAll(served)
      engine.close()
      await page.getByText('Not connected').first().waitFor()
      served = await serveDemo([], {}, folder)
      engine = await openPage(served.url, 'test-watcher')
      await page.goto(`${served.url}/#run`)
      await page.getByRole('region', { name: 'Where the show was left' }).waitFor()
      await page.getByRole('button', { name: 'Go on' }).press('Enter')
      const back = await engine.status(({ position }) => position > 0)
      expect(back).toMatchObject({ song: 'porchlight', playing: false, live: { grand: 0.75 } })
      expect(back.position).toBeGreaterThanOrEqual(at)
      await nextSays(/Go on from bar/)
      await page.keyboard.down('Space')
      await engine.status(({ playing, position }) => playing && position > back.position)
      await page.keyboard.up('Space')
      expect(faults).toEqual([])
    },
    LONG,
  )

  it(
    'says so when it cannot be shown, leaves a way to other places, and can be tried again',
    async () => {
      await page.evaluate(() => {
        location.hash = '#phones'
        const { toLocaleTimeString } = Date.prototype
        Object.assign(window, { mend: () => Object.assign(Date.prototype, { toLocaleTimeString }) })
        Date.prototype.toLocaleTimeString = () => {
          throw new Error('a fault that the test has made')
        }
      })
      await page.getByRole('heading', { name: 'Phones' }).waitFor()
      await page.evaluate(() => {
        location.hash = '#run'
      })
      const says = page.getByRole('alert').filter({ hasText: 'This place could not be shown' })
      await says.getByRole('link', { name: 'Chart' }).waitFor()
      await page.evaluate('mend()')
      await says.getByRole('button', { name: 'Try again' }).click()
      await page.getByRole('button', { name: /^Next: / }).waitFor()
      expect(faults.every(fault => fault.includes('a fault that the test has made'))).toBe(true)
    },
    LONG,
  )
})
