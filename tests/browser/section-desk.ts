// Shaping sections in a real browser: the demo served to a page, and the hands and eyes of the tests on it.

import { parseShow } from '@glowchart/shared/show/document.ts'
import type { Section, Song } from '@glowchart/shared/show/song.ts'
import { cuePlaces, timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { textOnDisk } from '../support/on-disk.ts'
import { type Served, serveDemo } from '../support/processes.ts'

export const BAR = 4 * 960
let served: Served
let browser: Browser
export let page: Page
export let atFirst = ''
export const faults: string[] = []

/** The show as it is on the server's disk. */
export const file = (): string => textOnDisk(served.data, 'show')
export const songIn = (text: string): Song =>
  Object.values(parseShow(JSON.parse(text), 'show').songs).find(s => s.title === 'Porchlight Arithmetic')!
export const section = (name: string, song = songIn(file())): Section =>
  Object.values(song.sections).find(one => one.name === name)!
export const names = (): string[] => {
  const song = songIn(file())
  return song.sectionOrder.map(id => song.sections[id]!.name)
}

export const saved = () =>
  page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
export const soon = <T>(read: () => T) => expect.poll(read, { timeout: 10_000 })
export const mark = (name: string): Locator =>
  page.getByRole('button', { name: new RegExp(`^Section ${name}(,|$)`) })
export const panel = (name = ''): Locator =>
  page.getByRole('region', { name: new RegExp(`^Section: ${name}`) })
/** The name of what has the keyboard; that of a section without its mark, which changes as sections move. */
export const focused = (): Promise<string | null> =>
  page.evaluate(() => document.activeElement?.getAttribute('aria-label')?.replace(/, mark .*$/, '') ?? null)

export async function undoAll(): Promise<void> {
  const undo = page.locator('.history').getByRole('button', { name: /^Undo: / })
  while ((await undo.count()) > 0) {
    await saved()
    const before = file()
    await undo.first().click()
    await soon(file).not.toBe(before)
  }
  await saved()
}

export async function type(name: string, value: string): Promise<void> {
  await panel().getByRole('spinbutton', { name, exact: true }).press('Enter')
  await panel().getByRole('textbox', { name, exact: true }).fill(value)
  await page.keyboard.press('Enter')
}

export async function centre(of: Locator): Promise<{ x: number; y: number }> {
  await of.scrollIntoViewIfNeeded()
  const box = (await of.boundingBox())!
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}

export async function drag(from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> {
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2)
  await page.mouse.move(to.x, to.y)
}

/** Where every cue is played: start and length in ticks, by section and cue. */
export function played(song: Song): Map<string, [at: number, length: number]> {
  return new Map(
    cuePlaces(song, timelineOf(song)).map(p => [`${p.section} ${p.id}`, [p.at, p.length] as const]),
  ) as Map<string, [number, number]>
}

/** Where a cue should be played once bars are put in so many bars into each of the sections named. */
export function expected(
  song: Song,
  into: Record<string, number>,
  count: number,
): Map<string, [number, number]> {
  const { sections } = timelineOf(song)
  const spanOf = (id: string) => sections.find(s => s.id === id)!
  return new Map(
    [...played(song)].map(([key, [at, length]]) => {
      const home = spanOf(key.split(' ')[0]!)
      const before = sections.filter(s => s.index < home.index && into[s.id] !== undefined).length
      const place = into[home.id] === undefined ? null : home.start + into[home.id]! * BAR
      const moves = before + (place !== null && at >= place ? 1 : 0)
      const grows = place !== null && at < place && at + length > place
      return [key, [at + moves * count * BAR, length + (grows ? count * BAR : 0)]]
    }),
  )
}

/** Serves the demo to a page for the tests of the file that calls this, and ends both after them. */
export function onTheDemo(): void {
  beforeAll(async () => {
    ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
    page = await browser.newPage({ viewport: { width: 1440, height: 1300 } })
    page.setDefaultTimeout(15_000)
    page.on('pageerror', error => faults.push(String(error)))
    page.on('console', message => message.type() === 'error' && faults.push(message.text()))
    await page.goto(served.url)
    await mark('Chorus 1').waitFor()
    atFirst = file()
  })
  afterAll(async () => {
    await browser?.close()
    await served?.close()
  })
  /** Every test ends where it began, to the byte. */
  afterEach(async () => {
    await page.keyboard.press('Escape')
    await page.keyboard.press('Escape')
    await undoAll()
    expect(file()).toBe(atFirst)
  })
}
