// The rig page in a real browser: plan, sockets, power, kits and patch, by mouse and by keys, each gesture one step back.

import { decodeFrame } from '@glowchart/shared/frame.ts'
import { boxLoad } from '@glowchart/shared/power/box.ts'
import { fullAmps } from '@glowchart/shared/power/draw.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

let served: Served
let browser: Browser
let page: Page
let rival: PageSocket
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.on('pageerror', error => faults.push(String(error)))
  page.on('console', message => message.type() === 'error' && faults.push(message.text()))
  page.setDefaultTimeout(30_000)
  await page.goto(`${served.url}/#rig`)
  await page.getByRole('heading', { name: /^Rig for tonight/ }).waitFor()
  rival = await openPage(served.url, 'test-rival')
})
afterAll(async () => {
  rival?.close()
  await browser?.close()
  await served?.close()
})

/** The documents as the server has them on its disk. */
async function saved(): Promise<{ rig: Rig; show: Show; kit: Kit }> {
  await page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
  const socket = await openPage(served.url, 'test-reader')
  socket.close()
  const { rig, show } = socket.hello
  return { rig, show, kit: show.kits[show.tonight]! }
}
const button = (name: string | RegExp) => page.getByRole('button', { name })
async function undo(says: RegExp): Promise<void> {
  await page.getByRole('button', { name: new RegExp(`^Undo: ${says.source}`) }).click()
}
const socketOf = (kit: Kit, fixture: string) =>
  Object.entries(kit.boxes).flatMap(([box, out]) =>
    Object.entries(out.sockets).flatMap(([socket, stand]) =>
      stand.fixture === fixture ? [{ box, socket, stand }] : [],
    ),
  )[0]!
const lightOn = (name: string) =>
  page
    .getByRole('list', { name: 'Lights on the stage' })
    .getByRole('button', { name: new RegExp(`^${name},`) })
/** A row of the table of sockets. */
const row = (label: string) =>
  page.getByRole('row').filter({ has: page.getByRole('button', { name: new RegExp(`^Socket ${label}:`) }) })

describe('the stage plan', { timeout: 90_000 }, () => {
  it('moves a light by its arrows, ten centimetres a press, as one step', async () => {
    const before = socketOf((await saved()).kit, 'tube2').stand.place
    await lightOn('Tube 2').focus()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Shift+ArrowUp')
    await page.getByRole('button', { name: 'Undo: Move Tube 2' }).waitFor()
    const after = socketOf((await saved()).kit, 'tube2').stand.place
    expect(after.x).toBeCloseTo(before.x + 0.2, 6)
    expect(after.y).toBeCloseTo(before.y + 1, 6)
    expect(after.z).toBe(before.z)
    await undo(/Move Tube 2/)
    expect(socketOf((await saved()).kit, 'tube2').stand.place).toEqual(before)
  })

  it('says by how much a cable is too short once its box has been dragged away', async () => {
    const box = button(/^Box A, .* upstage/)
    const from = (await box.boundingBox())!
    await page.mouse.move(from.x + 4, from.y + from.height / 2)
    await page.mouse.down()
    await page.mouse.move(from.x + 520, from.y + 40, { steps: 4 })
    await page.mouse.up()
    await page.getByRole('button', { name: 'Undo: Place Box A in Full stage' }).waitFor()
    await row('6').getByRole('button').click()
    await page.getByText(/^The cable is [\d.]+ m too short\.$/).waitFor()
    await undo(/Place Box A/)
    await page
      .getByText(/too short/)
      .first()
      .waitFor({ state: 'detached' })
  })

  it('says lengths in feet when they are asked for, and stores metres', async () => {
    await button(/^Lengths in metres/).click()
    await page
      .getByRole('cell', { name: /^29 ft 6 in, 16 AWG$/ })
      .first()
      .waitFor()
    await button(/^Lengths in feet/).click()
    await page
      .getByRole('cell', { name: /^9 m, 16 AWG$/ })
      .first()
      .waitFor()
  })
})

describe('sockets and builds', { timeout: 90_000 }, () => {
  it('offers a new fixture with the next serial where none is spare, and stands it by a drag as one step', async () => {
    await row('8').getByRole('button').click()
    await button('Unplug it').click()
    const free = button('Box A, socket 8: free')
    await free.waitFor()
    const bulb = button(/^Bulb 4 in, none spare/)
    const [from, to] = [(await bulb.boundingBox())!, (await free.boundingBox())!]
    const carry = async () => {
      await page.mouse.move(from.x + 20, from.y + 20)
      await page.mouse.down()
      await page.mouse.move(to.x + to.width / 2, to.y + to.height / 2, { steps: 4 })
    }
    await carry()
    await page.keyboard.press('Escape')
    await page.mouse.up()
    expect(await button('Add Bulb 5, serial BU-005').count()).toBe(0)
    await carry()
    await page.mouse.up()
    await button('Add Bulb 5, serial BU-005').click()
    await button('Box A, socket 8: Bulb 5').waitFor()
    const { rig, kit } = await saved()
    const [id] = Object.entries(rig.fixtures).find(([, f]) => f.serial === 'BU-005')!
    expect(socketOf(kit, id)).toMatchObject({ box: 'left', socket: 's8' })
    // All bulbs play in one part: so does this one.
    expect(kit.parts.bulbs!.fixtures).toContain(id)
    await undo(/Stand Bulb 5/)
    await free.waitFor()
    const back = await saved()
    expect(back.rig.fixtures[id]).toBeUndefined()
    expect(back.kit.parts.bulbs!.fixtures).not.toContain(id)
  })

  it('fills a free socket by keys alone, and goes on to the next one', async () => {
    // A press on what is open closes it; another opens it.
    for (const label of ['8', '8']) {
      await row(label)
        .getByRole('button', { name: /^Socket/ })
        .focus()
      await page.keyboard.press('Enter')
    }
    // Tube 6, which was unplugged, is the spare.
    await button('Tube, 1.2 m: Tube 6').focus()
    await page.keyboard.press('Enter')
    await button('Box A, socket 8: Tube 6').waitFor()
    const focused = page.locator(':focus')
    await expect.poll(() => focused.getAttribute('aria-label')).toBe('Socket 8: Tube 6')
    expect(socketOf((await saved()).kit, 'tube6')).toMatchObject({ box: 'left', socket: 's8' })
  })

  it('keeps the place of a fixture that is missing tonight, and takes it off the wire', async () => {
    await page.getByLabel('Missing tonight').check()
    await button(/^Tube 6, .*missing tonight$/).waitFor()
    const { kit } = await saved()
    expect(socketOf(kit, 'tube6').stand.missing).toBe(true)
    await button('Patch sheet').click()
    await page.getByRole('cell', { name: 'Box A, socket 7' }).waitFor()
    expect(await page.getByRole('cell', { name: 'Box A, socket 8' }).count()).toBe(0)
    await undo(/Tube 6 missing tonight/)
    await page.getByRole('cell', { name: 'Box A, socket 8' }).waitFor()
  })

  it('exchanges two plugs in one step', async () => {
    await lightOn('Oh 1').click()
    await page.getByLabel('Plug Oh 1 into another socket').selectOption({ label: '5: exchange with Ring 1' })
    await page.getByRole('button', { name: 'Undo: Exchange Oh 1 and Ring 1' }).waitFor()
    const { kit } = await saved()
    expect([socketOf(kit, 'letters1').socket, socketOf(kit, 'ring1').socket]).toEqual(['s5', 's1'])
    await undo(/Exchange/)
  })
})

describe('what a longer strip changes', { timeout: 120_000 }, () => {
  it('amps, drop, the songs’ peak and the advice all follow the length of its strip', async () => {
    const card = page.getByRole('region', { name: 'Box A' })
    const metered = () =>
      page
        .getByRole('status')
        .filter({ hasText: /^Metering/ })
        .waitFor({ state: 'detached' })
    const peak = async () =>
      Number((await card.getByRole('heading').locator('..').textContent())!.match(/([\d.]+) of/)![1])
    await metered()
    const before = { peak: await peak(), row: await row('6').textContent() }
    const { rig, kit } = await saved()
    const tube = rig.builds.tube!
    expect(before.row).toContain(fullAmps(tube).toFixed(1))

    const value = { ...tube, draw: { ...tube.draw, metres: 5 } }
    const answer = await rival.ask({ type: 'edit', edit: 'setBuild', args: { build: 'tube', value } })
    expect(answer).toMatchObject({ type: 'done' })
    // 5 m of 60 LEDs a metre, three in series: 100 segments of 60 mA.
    await row('6').getByRole('cell', { name: '6.0', exact: true }).waitFor()
    const longer = boxLoad({ ...rig, builds: { ...rig.builds, tube: value as typeof tube } }, kit, 'left')!
    const volts = longer.sockets.find(s => s.socket === 's6')!.at.volts
    await row('6')
      .getByRole('cell', { name: `${volts.toFixed(1)} V` })
      .waitFor()
    expect(volts).toBeLessThan(boxLoad(rig, kit, 'left')!.sockets.find(s => s.socket === 's6')!.at.volts)
    await expect.poll(peak, { timeout: 60_000 }).toBeGreaterThan(before.peak + 1)
    await row('6').getByRole('button').click()
    await page.getByText(/the common contact carries 6 A of 5 A/).waitFor()
    await rival.ask({ type: 'edit', edit: 'setBuild', args: { build: 'tube', value: tube } })
    await expect.poll(peak, { timeout: 60_000 }).toBe(before.peak)
  })

  it('keeps a box under a limit that is armed, and meters the songs again under it', async () => {
    const card = page.getByRole('region', { name: 'Box A' })
    await card.getByLabel('Power limit').check()
    const limit = card.getByRole('spinbutton', { name: 'Power limit of Box A' })
    await limit.focus()
    await page.keyboard.press('Enter')
    await page.keyboard.type('5')
    await page.keyboard.press('Enter')
    await card.getByText('Limit armed at 5.0 A: what is over it is dimmed').waitFor()
    await expect
      .poll(async () => Number((await card.getByText(/^[\d.]+ of 16 A$/).textContent())!.split(' ')[0]), {
        timeout: 60_000,
      })
      .toBeLessThanOrEqual(5)
    await undo(/Power limit/)
    await undo(/Power limit/)
  })
})

describe('another kit', { timeout: 90_000 }, () => {
  it('is looked at before it is played on: both stages, what is lost, and the way back is one step', async () => {
    await button('Kits').click()
    await button('Look before you play on it').click()
    await page.getByRole('img', { name: 'The stage of Full stage' }).waitFor()
    await page.getByRole('img', { name: 'The stage of Fly box, eight sockets' }).waitFor()
    await page.getByText('Rings is played by Bulbs, on 3 lights instead of 2.').waitFor()
    await page.getByLabel('Stand-in for Rings').selectOption({ label: 'No stand-in' })
    await page.getByText('Rings had 2 lights and has none: its cues stay dark.').waitFor()
    await page.getByRole('list', { name: 'Cues that would go dark' }).waitFor()
    await button('Let Tubes stand in').click()
    await page.getByText('Rings is played by Tubes, on 4 lights instead of 2.').waitFor()
    await page.getByRole('list', { name: 'Cues that would go dark' }).waitFor({ state: 'detached' })
    await button('Play on Fly box, eight sockets').click()
    await page
      .getByRole('heading', { name: /Fly box, eight sockets, 5 by 3 m, 8 fixtures in 8 sockets/ })
      .waitFor()
    await undo(/Tonight the kit Fly box/)
    await page.getByRole('heading', { name: /Full stage, 9 by 5 m/ }).waitFor()
    await undo(/Fixtures of Rings/)
    await undo(/Fixtures of Rings/)
  })

  it('begins from nothing: an empty stage says how, and a box and a light are added by pressing', async () => {
    await button('Add an empty kit').click()
    await page.getByRole('button', { name: 'Look before you play on it' }).last().click()
    await button('Play on Kit 2').click()
    await page.getByText('Drag the first box in.').waitFor()
    await button('Boxes').click()
    await button('Add a box').click()
    const card = page.getByRole('region', { name: 'Box C' })
    await card.getByRole('button', { name: 'Socket 1: Free' }).click()
    await card.getByRole('button', { name: 'Tube, 1.2 m: Tube 1' }).click()
    await card.getByRole('button', { name: 'Tube, 1.2 m: Tube 2' }).click()
    const { kit, rig } = await saved()
    const [id, out] = Object.entries(kit.boxes)[0]!
    // Behind the three boxes that are owned, so that it can be out beside any of them.
    expect(rig.boxes[id]).toMatchObject({ name: 'Box C', universe: 1, address: 73 })
    expect(Object.values(out.sockets).map(s => s.fixture)).toEqual(['tube1', 'tube2'])
    for (const says of [/Stand Tube 2/, /Stand Tube 1/, /Add Box C/, /Tonight the kit/, /Add the kit/])
      await undo(says)
  })
})

describe('the patch', { timeout: 90_000 }, () => {
  it('proposes a free address for a guest, and explains a clash with its remedy', async () => {
    await button('Patch sheet').click()
    await button('Add a guest at 1/49').click()
    const address = page.getByRole('spinbutton', { name: /^Address of/ })
    await address.focus()
    await page.keyboard.press('Enter')
    await page.keyboard.type('20')
    await page.keyboard.press('Enter')
    await page.getByText(/both listen to addresses 20 to 22 of universe 1\. Set .* to address 49/).waitFor()
    await button('Free: 1/49').click()
    await page.getByText('No address is claimed twice.').waitFor()
    await undo(/Address of/)
    await undo(/Address of/)
    await undo(/Guest/)
  })
})

describe('the work light', { timeout: 90_000 }, () => {
  it('lights everything a little warm, and ends when the page is left', async () => {
    const lit = rival.status(s => s.check === 'on')
    await button('Work light').click()
    await lit
    rival.frames.length = 0
    rival.send({ type: 'frames', on: true })
    const { kit, rig } = await saved()
    const { box, socket } = socketOf(kit, 'tube1')
    const owned = rig.boxes[box]!
    const slot = owned.address - 1 + 3 * owned.sockets.findIndex(s => s.id === socket)
    const levels = () => decodeFrame(new Uint8Array(rival.frames.at(-1) ?? []))?.levels
    await expect.poll(() => [...(levels()?.subarray(slot, slot + 3) ?? [])]).toEqual([38, 20, 8])
    const dark = rival.status(s => s.check === 'dark')
    await page.getByRole('link', { name: 'Chart' }).click()
    await dark
    await expect.poll(() => levels()?.some(level => level > 0)).toBe(false)
    await page.goto(`${served.url}/#rig`)
    await page.getByRole('heading', { name: /^Rig for tonight/ }).waitFor()
  })
})

it('fits a phone without being scrolled sideways', { timeout: 60_000 }, async () => {
  await page.setViewportSize({ width: 390, height: 844 })
  await expect
    .poll(() => page.evaluate(() => document.querySelector('main')!.scrollWidth <= window.innerWidth))
    .toBe(true)
  expect(faults).toEqual([])
})
