// A phone that joins: by the code on the laptop's screen, looks on at phone width, is given the controls, and loses them.

import readQr from 'jsqr'
import type { Browser, Page } from 'playwright-core'
import { PNG } from 'pngjs'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openToGuests } from '../support/guests.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { picture } from '../support/picture.ts'
import { type Served, serveDemo } from '../support/processes.ts'

let served: Served
let browser: Browser
let laptop: Page
let phone: Page
let engine: PageSocket
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  engine = await openPage(served.url, 'test-watcher')
  await openToGuests(engine)
  laptop = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  })
  phone = await context.newPage()
  for (const page of [laptop, phone]) page.on('pageerror', error => faults.push(String(error)))
}, 60_000)
afterAll(async () => {
  engine?.close()
  await browser?.close()
  await served?.close()
})

const isPlaying = async (): Promise<boolean> => (await engine.status(() => true)).playing
const toNext = () => phone.getByRole('button', { name: /^Next: / })
const onLaptop = (name: string) => laptop.getByRole('button', { name })

it('reads the code, gives a name, and sees the run page with its controls off and the reason beside them', async () => {
  await laptop.goto(`${served.url}/#phones`)
  const code = laptop.getByRole('img', { name: /for a phone's camera/ })
  await code.waitFor()
  const { data, width, height } = PNG.sync.read(await code.screenshot())
  const address = readQr(new Uint8ClampedArray(data), width, height)!.data
  expect(address).toMatch(/^http:\/\/127\.0\.0\.2:\d+\/#join=\d{8}$/)

  await phone.goto(address)
  await phone.getByLabel('Your name').fill('Drums')
  await phone.getByRole('button', { name: 'Join' }).click()
  await phone.getByRole('main').getByText('You look on.').waitFor()
  // The PIN does not stay in the address.
  expect(new URL(phone.url()).hash).toBe('#run')
  await engine.ask({ type: 'transport', transport: { do: 'song', song: 'porchlight', at: 0 } })
  const timer = phone.getByRole('timer')
  await timer.waitFor()
  expect((await timer.boundingBox())!.height).toBeGreaterThan(130)
  expect(await phone.evaluate(() => document.documentElement.scrollWidth)).toBe(390)
  const off = phone.locator('.hands :is(.pedal, .blackout):visible')
  for (const button of await off.all()) expect(await button.getAttribute('aria-disabled')).toBe('true')
  await picture(phone, 'phone-looks-on')
  // Another place in the address is still the run page.
  await phone.goto(`${new URL(address).origin}/#chart`)
  await timer.waitFor()
})

it('held on, nothing happens; the controls given, it starts the song; taken back, it is off again', async () => {
  const holdInVain = async () => {
    const box = (await toNext().boundingBox())!
    await phone.mouse.move(box.x + 40, box.y + 20)
    await phone.mouse.down()
    await phone.waitForFunction(() => !document.querySelector('.holding'), undefined, { polling: 50 })
  }
  await toNext().waitFor()
  await holdInVain()
  await phone.mouse.up()
  await phone.keyboard.press('Space')
  expect(await isPlaying()).toBe(false)

  await onLaptop('Has the controls').click()
  await phone.getByText('You have the controls', { exact: true }).waitFor()
  const box = (await toNext().boundingBox())!
  await phone.mouse.move(box.x + 40, box.y + 20)
  await phone.mouse.down()
  await engine.status(({ playing }) => playing)
  await phone.mouse.up()
  await laptop.goto(`${served.url}/#run`)
  await laptop.getByRole('link', { name: 'Drums has the controls too' }).click()

  await onLaptop('Looks on').click()
  await phone.getByRole('main').getByText('You look on.').waitFor()
  await onLaptop('Send Drums off').click()
  await phone.getByRole('button', { name: 'Join' }).waitFor()
  await laptop.getByText('Nobody has joined yet.').waitFor()
  await onLaptop('Close to all').click()
  await laptop.getByText('Only this laptop can open Glowchart').waitFor()
  expect(faults).toEqual([])
})
