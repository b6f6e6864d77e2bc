// Edit before doors in a real browser: published by keys alone, edited in the chart, taken in, and back again.

import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const LONG = 60_000
let served: Served
let browser: Browser
let page: Page
let watcher: PageSocket
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.on('pageerror', error => faults.push(String(error)))
  watcher = await openPage(served.url, 'test-watcher')
}, LONG)
afterAll(async () => {
  watcher?.close()
  await browser?.close()
  await served?.close()
})

const goTo = (place: string) => page.goto(`${served.url}/#${place}`)
const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
/** Presses a button on the keyboard alone. */
async function pressKey(name: string | RegExp): Promise<void> {
  await button(name).and(page.locator(':not([aria-disabled="true"])')).focus()
  await page.keyboard.press('Enter')
}
const running = () => watcher.messages.findLast(m => m.type === 'version')?.running
const inRun = (title: string) =>
  page.getByRole('navigation', { name: 'Set list' }).getByRole('button', { name: new RegExp(title) })

it(
  'edit before doors: the stage plays what was published until the edit is taken in, and goes back in one step',
  async () => {
    await goTo('setlist')
    await page.getByText('every edit sounds at once').waitFor()
    await pressKey('Publish version 1')
    await pressKey('Publish and play it')
    await page.getByText('The draft is the same.').waitFor()
    expect(running()).toMatchObject({ number: 1, before: null })

    await goTo('chart')
    await page.getByRole('textbox', { name: 'Title' }).fill('Porchlight Algebra')
    await page.keyboard.press('Enter')
    await page.getByRole('link', { name: 'Version 1 plays 1 change not in it' }).waitFor()
    await page.getByRole('heading', { name: 'Porchlight Algebra' }).waitFor()

    await goTo('run')
    await inRun('Porchlight Arithmetic').waitFor()
    expect(await inRun('Porchlight Algebra').count()).toBe(0)
    await page.getByText('1 change not in it').waitFor()

    // The draft has bars that what plays has not: the playhead goes by sections, and the place says so.
    const [intro] = watcher.hello.show.songs.porchlight!.sectionOrder
    const added = { song: 'porchlight', section: 'call', name: 'Call', bars: 4, before: intro! }
    await watcher.ask({ type: 'edit', edit: 'addSection', args: added })
    await goTo('chart')
    await page.getByText(/The lights play version 1, which has \d+ bars here, the draft \d+/).waitFor()
    await page.keyboard.press('.')
    await expect.poll(() => page.getByLabel('Position').textContent()).toBe('6.1')
    expect((await watcher.status(({ position }) => position > 0)).position).toBe(4 * 960)
    await page.getByLabel('Go to bar').fill('2')
    await page.keyboard.press('Enter')
    await page.getByText('Not done: Call, bar 2 is not in version 1, which plays').waitFor()

    await goTo('setlist')
    await page.getByText('Is called “Porchlight Algebra”, was “Porchlight Arithmetic”').waitFor()
    await pressKey('Take in Porchlight Algebra')
    const dialog = page.getByRole('dialog', { name: 'Take in Porchlight Algebra?' })
    // Held down, the key that opened it would leave it.
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.textContent))
      .toBe('Leave it as it is')
    await page.keyboard.press('Enter')
    await dialog.waitFor({ state: 'hidden' })
    expect(running()?.number).toBe(1)
    await pressKey('Take in Porchlight Algebra')
    await pressKey('Take it in now')
    await page.getByText('The draft is the same.').waitFor()
    expect(running()).toMatchObject({ number: 2, before: 1 })

    await goTo('run')
    await inRun('Porchlight Algebra').waitFor()
    await page.keyboard.press('m')
    await button(/^Back to version 1/).focus()
    // The guard is on: a press alone does nothing.
    await page.keyboard.press('Enter')
    expect(running()?.number).toBe(2)
    await page.keyboard.down('Enter')
    await inRun('Porchlight Arithmetic').waitFor()
    await page.keyboard.up('Enter')
    expect(running()?.number).toBe(1)

    await goTo('setlist')
    await pressKey('End, and rehearse')
    await pressKey('Rehearse')
    await page.getByText('every edit sounds at once').waitFor()
    await goTo('run')
    await inRun('Porchlight Algebra').waitFor()

    // Two boxes on one address: it must not be played so, and is only when that is said on purpose.
    const { rig, show } = watcher.hello
    const [one, other] = Object.keys(show.kits[show.tonight]!.boxes)
    const { universe, address } = rig.boxes[one!]!
    const clash = { box: other!, value: { ...rig.boxes[other!]!, universe, address } }
    expect(await watcher.ask({ type: 'edit', edit: 'setBox', args: clash })).toMatchObject({ type: 'done' })
    await goTo('setlist')
    await pressKey('Publish version 3')
    await page.getByText('Must not be played so').waitFor()
    await page.locator('.version-step .btn.go[aria-disabled="true"]').click({ force: true })
    expect(running()).toBeNull()
    await page.getByRole('checkbox', { name: 'Play it all the same' }).check()
    await pressKey('Publish and play it')
    await page.getByText('The draft is the same.').waitFor()
    expect(running()?.advice.some(({ severity }) => severity === 'stop')).toBe(true)
    expect(faults).toEqual([])
  },
  LONG,
)
