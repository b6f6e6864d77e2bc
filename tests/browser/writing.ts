// What browser tests of writing share: a served demo, a page on it, and the show as the server has it.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Browser, BrowserContextOptions, Page } from 'playwright-core'
import { afterAll, beforeAll, expect } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

export interface Writing {
  readonly served: Served
  readonly browser: Browser
  /** What went wrong on any of its pages. */
  readonly faults: string[]
  /** @param prepare before the page is loaded @param options 1440 × 900 px without them */
  open(prepare?: (page: Page) => Promise<void>, options?: BrowserContextOptions): Promise<Page>
  serversShow(): Promise<Show>
  close(): Promise<void>
}

export async function startWriting(): Promise<Writing> {
  const [served, browser] = await Promise.all([serveDemo(), openBrowser()])
  const faults: string[] = []
  return {
    served,
    browser,
    faults,
    async open(prepare, options) {
      const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, ...options })
      page.setDefaultTimeout(30_000)
      page.on('pageerror', error => faults.push(String(error)))
      page.on('console', message => message.type() === 'error' && faults.push(message.text()))
      await prepare?.(page)
      await page.goto(served.url)
      await page.getByRole('list', { name: 'Songs' }).waitFor()
      return page
    },
    async serversShow() {
      const socket = await openPage(served.url, 'test-reader')
      socket.close()
      return socket.hello.show
    },
    async close() {
      await browser.close()
      await served.close()
    },
  }
}

/** The demo that all tests of a file have together, each kind of them with a page of its own. */
export let writing: Writing

/** Serves it to the file that calls this. */
export function onOneDemo(): void {
  beforeAll(async () => {
    writing = await startWriting()
  })
  afterAll(() => writing?.close())
}

/** Every edit of the page is on the server's disk. */
export const saved = (page: Page): Promise<void> =>
  page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()

/** The step back or on has this name. */
export const offered = (page: Page, says: RegExp): Promise<void> =>
  page.locator('.history').getByRole('button', { name: says }).waitFor()

/** Takes steps back by the button, one after the other. @param next what is offered after each */
export async function undone(page: Page, ...next: RegExp[]): Promise<void> {
  for (const says of next) {
    await page.getByRole('button', { name: /^Undo: / }).click()
    await offered(page, says)
  }
}

/** Titles in the order of the show. */
export const titlesOf = (show: Show): string[] => show.songOrder.map(id => show.songs[id]!.title)

/** The song of a title; fails when there is none. */
export function songCalled(show: Show, title: string) {
  const song = Object.values(show.songs).find(one => one.title === title)
  expect(song, `a song called ${title}`).toBeDefined()
  return song!
}
