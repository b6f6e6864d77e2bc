// The show as a file, in a real browser: exported, changed elsewhere, refused, taken in, and one show opened after another.

import { text as textOf } from 'node:stream/consumers'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { type Served, serveDemo } from '../support/processes.ts'

let served: Served
let browser: Browser
let page: Page
let exported = ''

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 }, acceptDownloads: true })
  await page.goto(served.url)
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

const group = () => page.getByRole('region', { name: 'Show file' })
const take = (name: string, text: string) =>
  group()
    .locator('input[type=file]')
    .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) })
const band = () => page.getByRole('heading', { level: 2 }).first()

it('is exported as one file', async () => {
  const coming = page.waitForEvent('download')
  await group().getByRole('link', { name: 'Export' }).click()
  const download = await coming
  expect(download.suggestedFilename()).toMatch(/\.glowchart\.json$/)
  exported = await textOf(await download.createReadStream())
  expect(JSON.parse(exported).format).toBe('glowchart-bundle')
})

it('is refused in words when it is damaged, and nothing changes', async () => {
  await take('cut.json', exported.slice(0, 900))
  await group()
    .getByRole('alert')
    .getByText(/^cut\.json: line \d+, column \d+: .+ Restore an earlier version/)
    .waitFor()
  await band().getByText('The Provincial Department of Oh').waitFor()
})

it('asks before it takes the place of the show that is here', async () => {
  const bundle = JSON.parse(exported)
  bundle.show.name = 'The Provincial Department of Ah'
  await take('ah.json', JSON.stringify(bundle))
  await group().getByRole('button', { name: 'Leave it' }).click()
  await band().getByText('The Provincial Department of Oh').waitFor()
  await take('ah.json', JSON.stringify(bundle))
  await group().getByRole('button', { name: 'Put it in the place of the one here' }).click()
  await band().getByText('The Provincial Department of Ah').waitFor()
})

it('stands beside the one that is here when it is another, and either can be opened', async () => {
  const bundle = JSON.parse(exported)
  Object.assign(bundle.show, { id: 'weathervane', name: 'The Weathervane Committee' })
  await take('weathervane.json', JSON.stringify(bundle))
  await band().getByText('The Weathervane Committee').waitFor()
  await group()
    .getByRole('combobox', { name: 'Show on this machine' })
    .selectOption({ label: 'The Provincial Department of Ah' })
  await band().getByText('The Provincial Department of Ah').waitFor()
})
