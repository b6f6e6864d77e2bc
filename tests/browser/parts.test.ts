// Parts in a real browser: made on the stage with mouse and keys, set and ordered in their panel, their cue tracks heard.

import { decodeFrame } from '@glowchart/shared/frame.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openPage } from '../support/page-socket.ts'
import { picture } from '../support/picture.ts'
import { looksAndSwatches } from './looks.ts'
import { offered as offeredOn, onOneDemo, saved, undone, writing } from './writing.ts'

let page: Page

onOneDemo()
describe('looks and swatches', looksAndSwatches)

async function serversShow(): Promise<Show> {
  await saved(page)
  return writing.serversShow()
}
const offered = (says: RegExp) => offeredOn(page, says)
const undo = (...next: RegExp[]) => undone(page, ...next)
const fixturesOf = (show: Show, part: string) => show.kits[show.tonight]!.parts[part]!.fixtures
const partNamed = (show: Show, name: string) =>
  Object.entries(show.parts).find(([, p]) => p.name === name)?.[0] ?? ''
const onStage = (name: string) =>
  page.getByRole('list', { name: /^Fixtures, by/ }).getByRole('button', { name: new RegExp(`^${name}\\b`) })
async function middleOf(name: string): Promise<{ x: number; y: number }> {
  const box = (await onStage(name).boundingBox())!
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}
/** The engine's frames until one fits. */
async function frameWith(fits: (levels: Uint8Array) => boolean): Promise<void> {
  const socket = await openPage(writing.served.url, 'test-watcher')
  socket.send({ type: 'frames', on: true })
  while (!socket.frames.some(bytes => fits(decodeFrame(new Uint8Array(bytes))!.levels))) {
    socket.frames.length = 0
    await new Promise(resolve => setImmediate(resolve))
  }
  socket.close()
}
const lit = (levels: Uint8Array) => levels.filter(level => level > 0).length

describe('parts', () => {
  beforeAll(async () => {
    page = await writing.open()
    await page.getByRole('table', { name: 'Parts and their cues' }).first().waitFor()
  })
  afterAll(() => page?.close())

  describe('a part from the stage', () => {
    it('is made of fixtures clicked in order, in one step', async () => {
      const before = await serversShow()
      for (const name of ['Tube 3', 'Tube 1', 'Tube 2']) await onStage(name).click()
      await page.getByRole('heading', { name: '3 fixtures' }).waitFor()
      await picture(page, 'part-gathered')
      await page.getByRole('textbox', { name: 'Name of the new part' }).fill('Front three')
      await page.keyboard.press('Enter')
      await offered(/^Undo: Add the part Front three/)
      const show = await serversShow()
      const names = fixturesOf(show, partNamed(show, 'Front three'))
      const known = fixturesOf(before, partNamed(before, 'Tubes'))
      expect(names).toEqual([known[2], known[0], known[1]])
      await undo(/^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
    })

    it('takes fixtures in a lasso drawn straight across, more with Shift, ordered from left to right', async () => {
      const before = await serversShow()
      const tubes = fixturesOf(before, partNamed(before, 'Tubes'))
      const [first, second] = [await middleOf('Tube 1'), await middleOf('Tube 2')]
      await page.mouse.move(first.x - 30, first.y + 30)
      await page.mouse.down()
      await page.mouse.move(first.x, first.y)
      await page.mouse.move(first.x + 16, first.y - 16)
      await page.mouse.up()
      await page.getByRole('heading', { name: 'One fixture' }).waitFor()
      // A free line around another one.
      await page.keyboard.down('Shift')
      await page.mouse.move(second.x - 14, second.y - 14)
      await page.mouse.down()
      for (const [dx, dy] of [
        [14, -14],
        [14, 14],
        [-14, 14],
        [-14, -10],
      ] as const)
        await page.mouse.move(second.x + dx, second.y + dy, { steps: 3 })
      await page.mouse.up()
      await page.keyboard.up('Shift')
      await page.getByRole('heading', { name: '2 fixtures' }).waitFor()
      await page.getByRole('combobox', { name: 'Order' }).selectOption('across')
      await page
        .getByRole('combobox', { name: 'Set as the fixtures of a part' })
        .selectOption({ label: 'Rings' })
      await offered(/^Undo: Fixtures of Rings/)
      const show = await serversShow()
      expect(fixturesOf(show, partNamed(show, 'Rings'))).toEqual(tubes.slice(0, 2))
      await undo(/^Nothing to undo/)
      await page.keyboard.press('Escape')
    })

    it('is made with keys alone', async () => {
      const before = await serversShow()
      await onStage('Tube 2').focus()
      await page.keyboard.press('Space')
      await page.keyboard.press('ArrowRight')
      await page.keyboard.press('Space')
      await page.getByRole('heading', { name: '2 fixtures' }).waitFor()
      await page.getByRole('textbox', { name: 'Name of the new part' }).focus()
      await page.keyboard.type('Two of them')
      await page.keyboard.press('Enter')
      await offered(/^Undo: Add the part Two of them/)
      const show = await serversShow()
      const part = partNamed(show, 'Two of them')
      const [first, second] = fixturesOf(show, part)
      // In its panel the second goes before the first.
      await page.getByRole('button', { name: /number 2: Alt and up or down/ }).focus()
      await page.keyboard.press('Alt+ArrowUp')
      await offered(/^Undo: Fixtures of Two of them/)
      expect(fixturesOf(await serversShow(), part)).toEqual([second, first])
      await undo(/^Undo: Add the part/, /^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
      await page.keyboard.press('Escape')
    })
  })

  describe('a part on the chart', () => {
    it('has its cues on the line chosen by its name, and those of the song, with its panel, by another press', async () => {
      const name = page.locator('.line.open .part-name', { hasText: 'Tubes' }).first()
      await name.click()
      await page.getByRole('region', { name: 'Cue: 2 cues' }).waitFor()
      await name.press('Enter')
      await page.getByRole('region', { name: 'Part: Tubes' }).waitFor()
      await page.getByRole('button', { name: /^Change its \d+ cues in this song/ }).waitFor()
      await picture(page, 'part-panel')
    })

    it('has cue tracks that are soloed in what is sent, until it is lifted at the transport', async () => {
      const before = await serversShow()
      await page.locator('body').press('Home')
      for (let section = 0; section < 2; section++) await page.keyboard.press(']')
      await page.getByText('25.1', { exact: true }).first().waitFor()
      const tubes = fixturesOf(before, partNamed(before, 'Tubes'))
      await frameWith(levels => lit(levels) > 3 * tubes.length + 6)
      await page.locator('.line.open .part-name', { hasText: 'Tubes' }).first().click()
      await page.locator('.line.open .part-name', { hasText: 'Tubes' }).first().click()
      await page.getByRole('button', { name: /^Solo Tubes, track 1/ }).click()
      await frameWith(levels => lit(levels) <= 3 * tubes.length)
      await picture(page, 'part-solo')
      await page.getByRole('button', { name: 'Lift the solo' }).click()
      await frameWith(levels => lit(levels) > 3 * tubes.length + 6)
      // Never saved.
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
    })

    it('mutes, merges and orders its cue tracks, each as one step', async () => {
      const before = await serversShow()
      const song = before.songOrder[0]!
      const part = partNamed(before, 'Tubes')
      const own = (show: Show) =>
        show.songs[song]!.trackOrder.filter(t => show.songs[song]!.tracks[t]!.part === part)
      await page.getByRole('button', { name: 'Add a cue track', exact: true }).click()
      await offered(/^Undo: Add a cue track for Tubes/)
      const added = await serversShow()
      const track = own(added).at(-1)!
      const title = `Tubes, track ${own(added).length}`
      await page.getByRole('combobox', { name: `How ${title} merges` }).selectOption('add')
      await page.getByRole('button', { name: `Mute ${title}` }).click()
      await page.getByRole('button', { name: `Mute ${title}`, pressed: true }).waitFor()
      const changed = await serversShow()
      expect(changed.songs[song]!.tracks[track]).toEqual({ part, merge: 'add', muted: true })
      await page.getByRole('button', { name: `${title} higher` }).click()
      await offered(/^Undo: Move Tubes/)
      expect(own(await serversShow()).at(-2)).toBe(track)
      await undo(/^Undo: Tubes/, /^Undo: Tubes/, /^Undo: Add a cue track/, /^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
    })
  })

  describe('a part with several cue tracks', () => {
    it('has a lane for each on an open line, where cues are drawn, and moved from one to the other by keys', async () => {
      const before = await serversShow()
      const song = before.songOrder[0]!
      const part = partNamed(before, 'Foots')
      await page.locator('.line.open .part-name', { hasText: 'Foots' }).first().click()
      await page.locator('.line.open .part-name', { hasText: 'Foots' }).first().click()
      await page.getByRole('button', { name: 'Add a cue track', exact: true }).click()
      await offered(/^Undo: Add a cue track for Foots/)
      const withTrack = (await serversShow()).songs[song]!
      const tracks = withTrack.trackOrder.filter(track => withTrack.tracks[track]!.part === part)
      const name = (await page.locator('.line.open th', { hasText: 'Foots' }).first().boundingBox())!
      const notes = (await page.locator('.line.open .notes').first().boundingBox())!
      const y = name.y + name.height / 2 + 9
      await page.mouse.move(notes.x + 102, y)
      await page.mouse.down()
      await page.mouse.move(notes.x + 180, y)
      await page.mouse.move(notes.x + 260, y)
      await page.mouse.up()
      await offered(/^Undo: Add a cue/)
      await picture(page, 'part-lanes')
      const added = async () => {
        const show = await serversShow()
        return Object.values(show.songs[song]!.sections).flatMap(({ cues }, i) => {
          const had = Object.values(withTrack.sections)[i]!.cues
          return Object.entries(cues).flatMap(([id, cue]) => (had[id] ? [] : [cue.track]))
        })
      }
      expect(await added()).toEqual([tracks.at(-1)])
      await page.keyboard.press('Alt+ArrowUp')
      await offered(/^Undo: Move/)
      expect(await added()).toEqual([tracks.at(-2)])
      await undo(/^Undo: Add a cue/, /^Undo: Add a cue track/, /^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
      await page.keyboard.press('Escape')
      await page.locator('.line.open .part-name', { hasText: 'Tubes' }).first().click()
      await page.locator('.line.open .part-name', { hasText: 'Tubes' }).first().click()
    })
  })

  describe('a fixture', () => {
    it('is lit while its lamp is held, through a blackout too, and dark again when it is let go', async () => {
      const socket = await openPage(writing.served.url, 'test-blackout')
      await socket.ask({ type: 'live', live: { blackout: true } })
      await frameWith(levels => lit(levels) === 0)
      const lamp = page.getByRole('button', { name: 'Light Tube 1', exact: true })
      await lamp.focus()
      await page.keyboard.down('Enter')
      await frameWith(levels => lit(levels) === 3)
      await picture(page, 'fixture-lit')
      await page.keyboard.up('Enter')
      await frameWith(levels => lit(levels) === 0)
      const { x, y } = await middleOf('Tube 2')
      await page.mouse.move(x, y)
      await page.mouse.down()
      await frameWith(levels => lit(levels) === 3)
      await page.mouse.up()
      await frameWith(levels => lit(levels) === 0)
      await socket.ask({ type: 'live', live: { blackout: false } })
      socket.close()
    })

    it('goes dark with the page that held it', async () => {
      const other = await openPage(writing.served.url, 'test-goes-away')
      const watcher = await openPage(writing.served.url, 'test-stays')
      await other.ask({ type: 'live', live: { lit: ['tube-1'] } })
      await watcher.status(status => status.live.lit.length === 1)
      other.close()
      await watcher.status(status => status.live.lit.length === 0)
      watcher.close()
      expect(writing.faults).toEqual([])
    })
  })
})
