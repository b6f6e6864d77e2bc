// Two pages in a real browser edit the same show at once at random, with undo, redo and a reload, over real sockets to the
// real server: both end equal to the server's file, and nothing that was acknowledged is lost.
// GLOWCHART_TWO_PAGES=60 gives the seconds; 4 without it.

import { fileURLToPath } from 'node:url'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { applyDiff } from '@glowchart/shared/show/diff.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { bundled } from '../support/bundle.ts'
import type { Tally } from '../support/documents-page.ts'
import { textOnDisk } from '../support/on-disk.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const SECONDS = Number(process.env.GLOWCHART_TWO_PAGES ?? 4)
let served: Served
let browser: Browser
let script: string

/** What the bundled page puts on its window. */
interface DocumentsPage {
  documents: {
    editFor(ms: number, seed: number): Promise<Tally>
    ready(): boolean
    saved(): boolean
    text(): string
  }
}

beforeAll(async () => {
  const entry = fileURLToPath(new URL('../support/documents-page.ts', import.meta.url))
  ;[served, browser, script] = await Promise.all([serveDemo(), openBrowser(), bundled(entry)])
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

const ready = (page: Page) =>
  page.waitForFunction(() => (window as unknown as Partial<DocumentsPage>).documents?.ready())

async function open(): Promise<Page> {
  const page = await (await browser.newContext()).newPage()
  // The server's own page with another script: a page that came from elsewhere may not talk to this machine.
  await page.route('**/assets/*.js', route => route.fulfill({ contentType: 'text/javascript', body: script }))
  await page.goto(served.url)
  await ready(page)
  return page
}

const editFor = (page: Page, ms: number, seed: number): Promise<Tally> =>
  page.evaluate(args => (window as unknown as DocumentsPage).documents.editFor(...args), [ms, seed] as const)
const textOf = (page: Page): Promise<string> =>
  page.evaluate(() => (window as unknown as DocumentsPage).documents.text())

/** The rig or the show as it is in the data folder. */
const onDisk = (kind: 'rig' | 'show'): unknown => JSON.parse(textOnDisk(served.data, kind))

it('ends equal to the server’s file on both pages', { timeout: 120_000 + SECONDS * 5000 }, async () => {
  const watcher = await openPage(served.url, 'test-watcher')
  const pages = await Promise.all([open(), open()])
  const half = (SECONDS * 1000) / 2
  const first = await Promise.all(pages.map((page, i) => editFor(page, half, 1 + i)))
  await pages[1]!.reload()
  await ready(pages[1]!)
  const second = await Promise.all(pages.map((page, i) => editFor(page, half, 11 + i)))
  for (const page of pages) {
    await page.waitForFunction(() => (window as unknown as DocumentsPage).documents.saved())
  }

  // A page that has the whole state afresh says what the server has.
  const late = await openPage(served.url, 'test-late')
  const final = { rig: late.hello.rig, show: late.hello.show }
  for (const page of pages) await expect.poll(() => textOf(page)).toBe(canonicalText(final))
  expect(canonicalText(onDisk('show'))).toBe(canonicalText(final.show))
  expect(canonicalText(onDisk('rig'))).toBe(canonicalText(final.rig))

  // Every acknowledged revision was told to all, once, and all of them in order make what the server has.
  const told = watcher.messages.filter(
    (message): message is Extract<AppMessage, { type: 'applied' }> => message.type === 'applied',
  )
  let { rig, show } = watcher.hello
  for (const { document, diff } of told) {
    if (document === 'rig') rig = applyDiff(rig, diff)
    else show = applyDiff(show, diff)
  }
  expect(canonicalText({ rig, show })).toBe(canonicalText(final))
  // The tally of a page goes on until it is loaded anew.
  const acknowledged = [...second[0]!.acknowledged, ...first[1]!.acknowledged, ...second[1]!.acknowledged]
  expect(new Set(acknowledged).size).toBe(acknowledged.length)
  const revisions = new Set(told.map(message => message.revision))
  expect(acknowledged.filter(revision => !revisions.has(revision))).toEqual([])
  expect(acknowledged.length).toBe(told.length)

  const sum = (of: 'edits' | 'undos' | 'redos' | 'refused') => second[0]![of] + first[1]![of] + second[1]![of]
  console.log(
    `${SECONDS} s, two pages: ${sum('edits')} edits, ${sum('undos')} undos, ${sum('redos')} redos; ` +
      `${acknowledged.length} acknowledged, ${sum('refused')} refused or nothing to do`,
  )
  expect(acknowledged.length).toBeGreaterThan(SECONDS * 2)
  late.close()
  watcher.close()
})
