// A new user's first rig in a real browser, gesture by gesture, from an empty bench to the demo's songs on the wire.

import { createSocket, type Socket } from 'node:dgram'
import { fullAmps } from '@glowchart/shared/power/draw.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { picture } from '../support/picture.ts'
import { type Served, serveDemo } from '../support/processes.ts'

/** Gestures that the whole may take (our own limit). */
const MOST = 120
/** A loopback address of this run's own, at sACN's own port (E1.31-2018 9.1.1). */
const HERE = `127.${40 + (process.pid % 200)}.${(process.pid >> 8) & 255}.77`
const SACN_PORT = 5568

let served: Served
let browser: Browser
let page: Page
let node: Socket
/** Slots of the last sACN packet that came, by the place of the start code (E1.31-2018, table 4-1). */
let slots = new Uint8Array(512)
let packets = 0
const faults: string[] = []

beforeAll(async () => {
  node = createSocket('udp4')
  node.on('message', bytes => {
    packets += 1
    slots = new Uint8Array(bytes.subarray(126, 638))
  })
  await new Promise<void>(resolve => node.bind(SACN_PORT, HERE, resolve))
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(20_000)
  page.on('pageerror', error => faults.push(String(error)))
  await page.goto(served.url)
  await page.getByRole('list', { name: 'Songs' }).waitFor()
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
  node?.close()
})

/** A click, or typing one value and keeping it, is one gesture each. */
const gestures: string[] = []
async function click(says: string, what: Locator): Promise<void> {
  gestures.push(says)
  await what.click()
}
async function type(says: string, what: Locator, value: string): Promise<void> {
  gestures.push(says)
  await what.fill(value)
  await what.press('Enter')
}
const button = (name: string | RegExp, exact = true) => page.getByRole('button', { name, exact })
const place = (name: string) => page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name })

async function serversDocuments() {
  await page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
  const socket = await openPage(served.url, 'test-reader')
  socket.close()
  return socket.hello
}

/** Fills a box's eight sockets with new fixtures of a build; the first says which part they play in. */
async function fill(box: string, build: string, part: string): Promise<void> {
  const sockets = page.getByRole('table', { name: `Sockets of ${box}` })
  const pressBuild = () =>
    click(
      `${build} into ${box}`,
      page.locator('.tray .build').filter({ hasText: new RegExp(`^${build}\\d`) }),
    )
  await click(`socket 1 of ${box}`, sockets.getByRole('button', { name: /^Socket 1:/ }))
  await pressBuild()
  await sockets.getByRole('button', { name: new RegExp(`^Socket 1: ${build}`) }).waitFor()
  await click(`socket 1 of ${box}`, sockets.getByRole('button', { name: /^Socket 1:/ }))
  await click(
    `into ${part}`,
    page.getByRole('group', { name: 'Plays in' }).getByRole('button', { name: part }),
  )
  await click(`socket 2 of ${box}`, sockets.getByRole('button', { name: /^Socket 2:/ }))
  for (let i = 2; i <= 8; i++) {
    await pressBuild()
    await sockets.getByRole('button', { name: new RegExp(`^Socket ${i}: ${build}`) }).waitFor()
  }
}

it('defines builds, boxes, sockets, a kit, patch and node in at most 120 gestures, and the songs play on it', async () => {
  // The workbench: a tube and a bulb, two boxes of eight sockets.
  await click('Workbench', place('Workbench'))
  await click('new tube', button('New: Tube'))
  await type('strip in the tube', page.getByLabel('Strip in it, m'), '1.5')
  await type('height of the tube', page.getByLabel('Height, m'), '1.5')
  await click('new bulb', button('New: Bulb'))
  await page.getByRole('article', { name: 'Build Bulb 2' }).waitFor()
  await type('name of the bulb', page.getByLabel('Name of the build'), 'Globe')
  await page.getByRole('article', { name: 'Build Globe' }).waitFor()
  await picture(page, 'new-rig-build')
  for (const [name, amps] of [
    ['Box C', '30'],
    ['Box D', '3'],
  ] as const) {
    await click('new box', button('New box'))
    await page.getByRole('article', { name: `Box ${name}` }).waitFor()
    await type('amps of its supply', page.getByLabel('Amps, A', { exact: true }), amps)
  }
  // The rig: an empty kit for tonight, with both boxes out and every socket filled.
  await click('Rig', place('Rig'))
  await click('kits', button('Kits'))
  await click('add a kit', button('Add an empty kit'))
  await click(
    'look at it',
    page
      .getByRole('listitem')
      .filter({ has: page.getByRole('textbox', { name: 'Name of the kit Kit 2' }) })
      .getByRole('button', { name: /^Look before/ }),
  )
  await click('play on it', button('Play on Kit 2'))
  await click('boxes', button('Boxes'))
  await click('new ones when none is spare', page.getByRole('checkbox', { name: /New ones/ }))
  await click('Box D out', button(/^\S* ?Box D, /, false))
  await fill('Box D', 'Globe', 'Bulbs')
  await click('Box C out', button(/^\S* ?Box C, /, false))
  await fill('Box C', 'Tube', 'Tubes')
  await picture(page, 'new-rig')
  await click('patch sheet', button('Patch sheet'))
  await picture(page, 'new-rig-patch')
  // The parts that have no lights of their own on this rig.
  await click('Chart', place('Chart'))
  for (const [part, other] of [
    ['Letters', 'Bulbs'],
    ['Rings', 'Bulbs'],
    ['Foots', 'Tubes'],
  ] as const) {
    const parts = page.getByRole('region', { name: 'Parts' })
    await click(`part ${part}`, parts.getByRole('button', { name: new RegExp(`^${part}`) }))
    gestures.push(`${other} stand in`)
    await page.getByLabel(/^When it has no fixture/).selectOption({ label: other })
    await click('close the part', button('Songs'))
  }
  // The node.
  await click('output', button(/^Output/, false))
  await click('sACN', page.getByRole('radio', { name: 'sACN' }))
  await type('address of the node', page.getByLabel('Address of the node'), HERE)
  await click('send to it', button(`Send all to sACN ${HERE}`))
  await expect.poll(() => packets, { timeout: 20_000 }).toBeGreaterThan(0)

  console.log(`a new rig took ${gestures.length} gestures of at most ${MOST}`)
  expect(gestures.length).toBeLessThanOrEqual(MOST)

  const { rig, show } = await serversDocuments()
  const kit = show.kits[show.tonight]!
  const wired = patch(rig, kit)
  expect(wired.clashes).toEqual([])
  expect(wired.entries).toHaveLength(16)
  expect(new Set(wired.entries.map(entry => entry.box)).size).toBe(2)
  const tube = Object.values(rig.builds).find(build => build.name === 'Tube')!
  expect(fullAmps(tube)).toBeCloseTo(1.8, 9)

  // Every song of the demo gives light to both boxes, and to nothing else.
  const taken = new Set(wired.entries.flatMap(e => e.channels.map((_, i) => e.address - 1 + i)))
  const desk = await openPage(served.url, 'test-desk')
  for (const song of show.songOrder) {
    const lit = new Set<number>()
    await desk.ask({ type: 'transport', transport: { do: 'song', song, at: 0 } })
    await desk.ask({ type: 'transport', transport: { do: 'play' } })
    await expect
      .poll(
        () => {
          for (const [slot, level] of slots.entries()) if (level > 0) lit.add(slot)
          return wired.entries.filter(e => e.channels.some((_, i) => lit.has(e.address - 1 + i))).length
        },
        { timeout: 40_000, interval: 15, message: `lights lit by ${show.songs[song]!.title}` },
      )
      .toBeGreaterThanOrEqual(8)
    expect([...lit].filter(slot => !taken.has(slot))).toEqual([])
    await desk.ask({ type: 'transport', transport: { do: 'stop' } })
  }
  desk.close()
  expect(faults).toEqual([])
}, 600_000)
