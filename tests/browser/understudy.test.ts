// A second laptop is paired through its page, by keyboard alone: a wrong code is told where it was typed, and focus stays.

import { randomInt } from 'node:crypto'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

/** The first laptop's port is on a loopback address of its own: both laptops are on this machine. */
const address = `127.${randomInt(1, 255)}.${randomInt(1, 255)}.${randomInt(2, 255)}`

let first: Served
let second: Served
let browser: Browser
let leads: PageSocket
let page: Page
beforeAll(async () => {
  const port = String(randomInt(20_000, 30_000))
  ;[first, second, browser] = await Promise.all([
    serveDemo(),
    serveDemo([], { GLOWCHART_UNDERSTUDY_PORT: port }),
    openBrowser(),
  ])
  leads = await openPage(first.url)
  page = await browser.newPage({ viewport: { width: 390, height: 844 }, reducedMotion: 'reduce' })
  page.setDefaultTimeout(20_000)
}, 60_000)
afterAll(async () => {
  leads?.close()
  await browser?.close()
  await Promise.all([first?.close(), second?.close()])
})

const code = () => leads.messages.findLast(message => message.type === 'code')?.code ?? ''

// Only Linux answers at every address of 127.0.0.0/8.
it.skipIf(process.platform !== 'linux')('pairs by keyboard alone', { timeout: 60_000 }, async () => {
  await leads.ask({ type: 'understudy', understudy: { do: 'allow', on: true, via: address } })
  await expect.poll(code).toMatch(/^\w{4}-\w{4}$/)
  await page.goto(`${second.url}/#outputs`)
  const section = page.getByRole('region', { name: 'A second laptop' })
  const { keyboard } = page
  await section.getByRole('button', { name: 'Make this laptop an understudy' }).press('Enter')
  await keyboard.type('127.0.0')
  await keyboard.press('Enter')
  await section.getByText('Type the first laptop’s address').waitFor()
  await keyboard.press('Control+a')
  await keyboard.type(address)
  await keyboard.press('Tab')
  await keyboard.type('2222-2222')
  await keyboard.press('Enter')
  await section.getByText('The code is another one').waitFor()
  await keyboard.press('Control+a')
  await keyboard.type(code().toLowerCase())
  await keyboard.press('Enter')
  await section.getByText(/^Follows .*, in step$/).waitFor()
  expect(await section.evaluate(element => element.contains(document.activeElement))).toBe(true)
  const { understudy } = await leads.status(status => status.understudy.partner?.ready === true)
  expect(understudy.state).toBe('leads')
  // The chart says it before anything is tried.
  await page.goto(`${second.url}/#chart`)
  await page.getByText('Read only. This laptop follows ').waitFor()
  expect(await page.getByRole('button', { name: 'Play', exact: true }).isDisabled()).toBe(true)
  await page.goto(`${second.url}/#run`)
  await page.getByRole('button', { name: 'Take over now' }).waitFor()
  expect(await page.getByRole('button', { name: 'Blackout' }).count()).toBe(0)
})
