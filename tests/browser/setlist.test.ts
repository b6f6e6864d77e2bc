// The set list in a real browser: songs put in order by key and by mouse, a look before one, tonight's list, and a pedal learned.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const LONG = 60_000
let served: Served
let browser: Browser
let page: Page
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.on('pageerror', error => faults.push(String(error)))
  await page.goto(`${served.url}/#setlist`)
  await page.getByRole('list', { name: 'Songs of the set' }).waitFor()
}, LONG)
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

/** The show as the server has it on its disk by now. */
async function saved(): Promise<Show> {
  const watcher = await openPage(served.url, `test-${Math.round(performance.now())}-look`)
  watcher.close()
  return watcher.hello.show
}
const order = async () => (await saved()).setLists.short!.songs.map(({ song }) => song)

describe('the set list', () => {
  it(
    'puts a song elsewhere with Alt and an arrow, by mouse, and back by undo',
    async () => {
      const handle = (title: string) => page.getByRole('button', { name: new RegExp(`^\\d+, ${title}`) })
      await handle('Porchlight').focus()
      await page.keyboard.press('Alt+ArrowDown')
      await expect.poll(order).toEqual(['salt', 'porchlight', 'drawers', 'ferry'])
      await page.keyboard.press('Alt+ArrowDown')
      await expect.poll(order).toEqual(['salt', 'drawers', 'porchlight', 'ferry'])
      await handle('Slow Ferry').dragTo(handle('Salt'), { targetPosition: { x: 20, y: 2 } })
      await expect.poll(order).toEqual(['ferry', 'salt', 'drawers', 'porchlight'])
      for (let i = 0; i < 3; i++) {
        await page.keyboard.press('Control+z')
      }
      await expect.poll(order).toEqual(['porchlight', 'salt', 'drawers', 'ferry'])
    },
    LONG,
  )

  it(
    'keeps a note, a look before a song, and one song more',
    async () => {
      await page.getByRole('textbox', { name: 'Note on Seven Drawers Down' }).fill('Capo 3 tonight')
      await page.keyboard.press('Enter')
      await page.getByRole('combobox', { name: 'Look before it' }).nth(2).selectOption({ label: 'Lid up' })
      await page
        .getByRole('region', { name: /Short set/ })
        .getByRole('button', { name: /Porchlight Arithmetic in it/ })
        .click()
      await expect
        .poll(async () => (await saved()).setLists.short!.songs.slice(2))
        .toEqual([
          { song: 'drawers', note: 'Capo 3 tonight', before: 'lidUp' },
          { song: 'ferry', note: expect.any(String) },
          { song: 'porchlight' },
        ])
      await page.getByText(/^5 songs, 15:3\d of music$/).waitFor()
    },
    LONG,
  )

  it(
    'makes another list, and plays it tonight',
    async () => {
      await page.getByRole('button', { name: 'New set list' }).click()
      await page
        .getByRole('region', { name: 'Set 2' })
        .getByRole('button', { name: 'Play it tonight' })
        .click()
      await expect
        .poll(async () => {
          const { tonightList, setLists } = await saved()
          return setLists[tonightList ?? '']?.name
        })
        .toBe('Set 2')
    },
    LONG,
  )

  it(
    'learns a key by its being pressed, and a pedal on MIDI by its being trodden on',
    async () => {
      const pedals = page.getByRole('region', { name: 'Pedals and keys' })
      await pedals.getByRole('button', { name: 'Learn another' }).click()
      await page.keyboard.press('F8')
      await pedals
        .getByRole('combobox', { name: 'What Key F8 does' })
        .selectOption({ label: 'Repeat the section, leave the repeat' })
      await pedals.getByRole('button', { name: 'Learn another' }).click()
      await pedals.getByRole('status').waitFor()
      const pedal = await openPage(served.url, 'test-pedal')
      pedal.send({ type: 'midi', midi: { port: 'Pedal', at: 0, bytes: [0xb2, 80, 127] } })
      await pedals.getByRole('button', { name: 'Controller 80, channel 3', exact: true }).waitFor()
      await expect
        .poll(async () => (await saved()).triggers?.slice(-2))
        .toEqual([
          { input: { from: 'key', key: 'F8' }, action: { do: 'repeat' } },
          { input: { from: 'control', channel: 3, control: 80 }, action: { do: 'next' } },
        ])
      pedal.close()
      expect(faults).toEqual([])
    },
    LONG,
  )

  it(
    'lets a pedal on MIDI start the song with no page in sight of it',
    async () => {
      const pedal = await openPage(served.url, 'test-pedal-2')
      await page.goto('about:blank')
      const playing = pedal.status(status => status.playing)
      pedal.send({ type: 'midi', midi: { port: 'Pedal', at: 5000, bytes: [0xb2, 80, 127, 0xb2, 80, 0] } })
      expect((await playing).song).toBe('porchlight')
      pedal.close()
    },
    LONG,
  )
})
