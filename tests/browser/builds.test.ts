// The workbench in a real browser: a build told by its strip, its plug and fixtures, a GDTF file, a slot walk on the wire.

import { decodeFrame } from '@glowchart/shared/frame.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { archive, description } from '../gdtf/fixture.ts'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { picture } from '../support/picture.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const SLOW = 120_000
let served: Served
let browser: Browser
let page: Page
const faults: string[] = []
const asked: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(20_000)
  page.on('pageerror', error => faults.push(String(error)))
  page.on('console', message => message.type() === 'error' && faults.push(message.text()))
  page.on('request', request => asked.push(request.url()))
  await page.goto(`${served.url}/#workbench`)
  await page.getByRole('navigation', { name: 'What is owned' }).waitFor()
}, SLOW)
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

async function documents(): Promise<{ rig: Rig; show: Show }> {
  await page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
  const socket = await openPage(served.url, 'test-reader')
  socket.close()
  return socket.hello
}
const buildNamed = (rig: Rig, name: string) => Object.values(rig.builds).find(build => build.name === name)
const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const owned = (name: string) =>
  page
    .getByRole('navigation', { name: 'What is owned' })
    .getByRole('button', { name: new RegExp(`^${name}`) })
async function keep(label: string, value: string): Promise<void> {
  await page.getByLabel(label, { exact: true }).fill(value)
  await page.keyboard.press('Enter')
}

describe('a build', () => {
  it(
    'follows its strip: amps, watts and the cut, in one step back',
    async () => {
      await owned('Tube, 1.2 m').click()
      const draws = page.getByRole('region', { name: 'Draws, full on' })
      await draws.getByText('1.44 A').waitFor()
      await keep('Strip in it, m', '1.53')
      // 1.53 m of segments of 5 cm are 30 of them: 30 × 60 mA = 1.8 A, 21.6 W at 12 V, and 3 cm are left.
      await draws.getByText('1.80 A').waitFor()
      await draws.getByText('21.6 W').waitFor()
      await draws.getByText('30 segments of 5 cm, 3 LEDs each: 1.5 m, 3 cm left over.').waitFor()
      await picture(page, 'workbench-build')
      await page.getByRole('button', { name: 'Undo: Tube, 1.2 m: length of strip' }).click()
      await draws.getByText('1.44 A').waitFor()
    },
    SLOW,
  )

  it(
    'says what a value may be, and changes nothing',
    async () => {
      await keep('Volts, V', '400')
      await page.getByRole('alert').getByText('From 3 to 48 V').waitFor()
      await page.keyboard.press('Escape')
      expect(await page.getByLabel('Volts, V').inputValue()).toBe('12')
      expect(buildNamed((await documents()).rig, 'Tube, 1.2 m')?.volts).toBe(12)
    },
    SLOW,
  )

  it(
    'says what its plug does when it is turned, and takes another order of contacts',
    async () => {
      const plug = page.getByRole('region', { name: 'Plug' })
      await plug.getByText('Turned by 1 of 4: stays dark, its common is not on the supply.').waitFor()
      await plug.getByLabel('Contact B').selectOption({ label: 'Green' })
      await plug.getByLabel('Contact C').selectOption({ label: 'Red' })
      await plug
        .getByRole('img', { name: /solder side, clockwise: A common \+, B green, C red, D blue/ })
        .waitFor()
      expect(buildNamed((await documents()).rig, 'Tube, 1.2 m')?.contacts).toEqual([
        'common',
        'green',
        'red',
        'blue',
      ])
    },
    SLOW,
  )

  it(
    'has a parts list with what it comes to',
    async () => {
      await button('Take from its figures').click()
      await keep('Price of part 1', '5')
      await keep('Price of part 2', '2.5')
      await page.getByRole('region', { name: 'Parts' }).getByText('8.50').waitFor()
    },
    SLOW,
  )

  it(
    'is owned many times over: five more in one step, and a fault that is opened and mended',
    async () => {
      await keep('How many more', '5')
      await button('Add 5 fixtures').click()
      await page.getByLabel('Serial of Tube 12').waitFor()
      let { rig } = await documents()
      const tubes = () => Object.values(rig.fixtures).filter(fixture => /^Tube \d+$/.test(fixture.name))
      expect(tubes().map(fixture => fixture.serial)).toContain('TU-012')
      const row = page.getByRole('listitem').filter({ has: page.getByLabel('Serial of Tube 12') })
      await row.getByRole('button', { name: /^Fault/ }).click()
      await page.getByLabel('What is wrong with Tube 12').fill('Green flickers')
      await page.keyboard.press('Enter')
      await row.getByText('Green flickers').first().waitFor()
      ;({ rig } = await documents())
      expect(tubes().find(fixture => fixture.name === 'Tube 12')?.faults[0]?.what).toBe('Green flickers')
      await row.getByRole('button', { name: /^Mended/ }).click()
      await page.getByRole('button', { name: /^Undo: Close a fault/ }).waitFor()
      for (const says of [/^Undo: Close a fault/, /^Undo: Fault of/, /^Undo: Add 5 of/]) {
        await page.getByRole('button', { name: says }).click()
      }
      await page.getByLabel('Serial of Tube 12').waitFor({ state: 'detached' })
      ;({ rig } = await documents())
      expect(tubes()).toHaveLength(7)
    },
    SLOW,
  )
})

describe('a GDTF file', () => {
  const choose = (name: string, bytes: Uint8Array) =>
    page.getByLabel(/Choose a .gdtf file/).setInputFiles({
      name,
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(bytes),
    })

  it(
    'brings what reads it only when one is chosen, and says what is wrong with it beside the well',
    async () => {
      await button('from a GDTF file').click()
      expect(asked.filter(url => url.includes('gdtf'))).toEqual([])
      await choose('letter.gdtf', new TextEncoder().encode('Dear all'))
      const fault = page.getByRole('alert').filter({ hasText: 'letter.gdtf' })
      await fault.getByText('the file is no ZIP archive').waitFor()
      expect(await fault.textContent()).toContain('Choose a GDTF file')
      expect(asked.filter(url => url.includes('gdtf'))).not.toEqual([])
    },
    SLOW,
  )

  it(
    'is seen slot by slot before it is kept, and becomes a build in one step',
    async () => {
      await choose('bar.gdtf', archive(description))
      const mode = page.getByLabel('Mode', { exact: true })
      await mode.waitFor()
      const preview = page.getByRole('table')
      await preview.getByRole('row', { name: /^6 Red cell 1/ }).waitFor()
      await picture(page, 'workbench-gdtf')
      await button('Add this build').click()
      await page.getByRole('article', { name: /^Build Bar of four & a head/ }).waitFor()
      const { rig } = await documents()
      const build = Object.values(rig.builds).find(one => one.name.startsWith('Bar of four & a head'))!
      expect(build.cells).toBe(2)
      expect(build.channels.find(channel => channel.does === 'intensity')?.bits).toBe(16)
      await page.getByRole('button', { name: /^Undo: Build Bar of four/ }).click()
      await page.getByRole('article', { name: /^Build Bar of four/ }).waitFor({ state: 'detached' })
    },
    SLOW,
  )
})

describe('a slot walk', () => {
  let watcher: PageSocket
  /** The engine's frames until the slots from 101 on are these, and no other slot is raised. */
  async function wire(...levels: number[]): Promise<void> {
    const wanted = new Uint8Array(512)
    wanted.set(levels, 100)
    for (;;) {
      const bytes = watcher.frames.splice(0).at(-1)
      const frame = bytes && decodeFrame(new Uint8Array(bytes))
      if (frame && Buffer.compare(frame.levels.subarray(0, 512), wanted) === 0) return
      await new Promise(resolve => setImmediate(resolve))
    }
  }

  it(
    'raises one slot after the other on the wire, and ends in a build that stands on stage',
    async () => {
      watcher = await openPage(served.url, 'test-watcher')
      watcher.send({ type: 'frames', on: true })
      await button('find out slot by slot').click()
      await keep('Universe', '7')
      await page.getByText('Nothing of tonight’s kit is on universe 7').waitFor()
      await keep('Universe', '1')
      await keep('Start address', '101')
      await button('Raise the first slot').click()
      await wire(255)
      await button('Brighter').click()
      await wire(255, 255)
      // Answered by keyboard alone.
      await button('Blue').focus()
      await page.keyboard.press('Enter')
      await wire(255, 0, 255)
      const level = page.getByLabel('Level of slot 3')
      await level.focus()
      await page.keyboard.press('Home')
      await wire(255, 0, 0)
      await page.keyboard.press('End')
      await wire(255, 0, 255)
      await button('Red').click()
      await wire(255, 0, 0, 255)
      await button('Green').click()
      await picture(page, 'workbench-walk')
      await button('Make it a build of 4 slots').click()
      await page.getByRole('article', { name: 'Build Rented fixture' }).waitFor()
      // Let go of, the wire is dark.
      await wire()
      const { rig, show } = await documents()
      const build = buildNamed(rig, 'Rented fixture')!
      expect(build.channels.map(channel => channel.does)).toEqual(['intensity', 'blue', 'red', 'green'])
      const guest = Object.values(show.kits[show.tonight]!.guests)[0]!
      expect(rig.builds[guest.build]).toEqual(build)
      expect([guest.universe, guest.address]).toEqual([1, 101])
      watcher.close()
    },
    SLOW,
  )
})

describe('a box', () => {
  it(
    'is made at a free address, and its switches are drawn for it',
    async () => {
      await button('New box').click()
      await page.getByRole('article', { name: 'Box Box C' }).waitFor()
      const address = page.getByRole('region', { name: 'Address' })
      // Boxes take 1–72, the guest of the walk 101–104: 24 slots fit from 73 on.
      await address.getByRole('img', { name: 'Switches for 73: 1, 4, 7 on, the others off' }).waitFor()
      await address.getByText('Sum and one', { exact: true }).click()
      await address.getByRole('img', { name: 'Switches for 73: 4, 7 on, the others off' }).waitFor()
      await address.getByRole('img', { name: 'Dials: 0 7 3' }).waitFor()
      await keep('Start address', '20')
      await address.getByText(/^Box . listens to 1–24 of the same universe/).waitFor()
      await address.getByRole('button', { name: 'Free: 1 / 73' }).click()
      await address.getByRole('img', { name: 'Dials: 0 7 3' }).waitFor()
    },
    SLOW,
  )

  it(
    'takes lengths in feet, says where no fuse is legal, and grows by sockets like the last',
    async () => {
      await owned('Box A').click()
      await page.getByRole('article', { name: 'Box Box A' }).waitFor()
      await keep('Cable of socket 1, m', '20 ft')
      await page.getByLabel('Wire of socket 1').selectOption({ label: '24 AWG' })
      await page.getByText(/^No legal fuse: 3.36 A on 24 AWG/).waitFor()
      await keep('How many more', '2')
      await button('Add like the last').click()
      await page.getByText('Its sockets take 30 of 24 channels', { exact: false }).waitFor()
      await picture(page, 'workbench-box')
      const box = Object.values((await documents()).rig.boxes).find(one => one.name === 'Box A')!
      expect(box.sockets).toHaveLength(10)
      expect(box.sockets[0]!.cable.length).toBeCloseTo(20 * 0.3048, 2)
      expect(box.sockets[0]!.cable.wire).toEqual({ awg: 24, solid: false })
    },
    SLOW,
  )

  it(
    'stacks on a phone with nothing wider than the page',
    async () => {
      await page.setViewportSize({ width: 390, height: 844 })
      for (const name of ['Box A', 'Ring, 60 cm']) {
        await owned(name).click()
        await page.getByRole('article', { name: new RegExp(name) }).waitFor()
        await picture(page, `workbench-phone-${name.slice(0, 3)}`)
        const wide = await page.evaluate(() => document.querySelector('.whole')!.scrollWidth)
        expect(wide).toBeLessThanOrEqual(390)
      }
      expect(faults).toEqual([])
    },
    SLOW,
  )
})
