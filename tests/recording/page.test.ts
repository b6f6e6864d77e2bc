// A recording in a real browser: attached, outlined, moved, its beats found, bars laid on it; what is refused.

import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Song } from '@glowchart/shared/show/song.ts'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { onOneDemo, saved, writing } from '../browser/writing.ts'
import { picture } from '../support/picture.ts'
import { beginnings } from './begin.ts'
import { clicks, waveFile } from './wave-file.ts'

const BPM = 100
const FIRST = 0.5
const SECONDS = 30
const times = Array.from({ length: 49 }, (_, i) => FIRST + (i * 60) / BPM)
const wav = waveFile(clicks(times, SECONDS), 44_100)

let page: Page

onOneDemo()

const group = () => page.getByRole('region', { name: 'Recording' })
const button = (name: string | RegExp) => group().getByRole('button', { name })
const choose = (name: string, buffer: Buffer) =>
  group().locator('input[type=file]').setInputFiles({ name, mimeType: 'audio/wav', buffer })
/** The song on the page as the server has it. */
async function song(): Promise<Song> {
  await saved(page)
  const show = await writing.serversShow()
  return show.songs[show.songOrder[0]!]!
}
const kept = () =>
  existsSync(join(writing.served.data, 'audio')) ? readdirSync(join(writing.served.data, 'audio')) : []

/** How much of the outline of the first line is drawn. */
const inked = () =>
  page
    .locator('canvas.wave')
    .first()
    .evaluate(canvas => {
      const surface = canvas as HTMLCanvasElement
      const { data } = surface.getContext('2d')!.getImageData(0, 0, surface.width, surface.height)
      let sum = 0
      for (let i = 3; i < data.length; i += 4) sum += data[i]!
      return sum
    })

describe('recordings', () => {
  beforeAll(async () => {
    page = await writing.open()
    await group().waitFor()
  })
  afterAll(() => page?.close())

  describe('what cannot be a recording', () => {
    it.each([
      { what: 'an empty file', bytes: Buffer.alloc(0), says: 'there is nothing in it' },
      { what: 'text', bytes: Buffer.from('no music here '.repeat(99)), says: 'it cannot be decoded' },
      { what: 'a WAV without its samples', bytes: wav.subarray(0, 40), says: 'it cannot be decoded' },
      { what: 'the head of a flac', bytes: Buffer.from('fLaC\0\0\0\x22'), says: 'it cannot be decoded' },
    ])('refuses $what, and changes and keeps nothing', async ({ bytes, says }) => {
      await choose('take.wav', bytes)
      await page.locator('.chart-foot').getByText(says).waitFor()
      expect((await song()).audio).toBeUndefined()
      expect(kept()).toEqual([])
    })
  })

  it('does not let a file that is dropped anywhere take the place of the page', async () => {
    const left = await page.evaluate(() =>
      ['.chart', '.side', '.transport'].map(place => {
        const dataTransfer = new DataTransfer()
        dataTransfer.items.add(new File(['no music'], 'list.txt'))
        const drop = new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true })
        return document.querySelector(place)!.dispatchEvent(drop)
      }),
    )
    expect(left).toEqual([false, false, false])
    await page.locator('.chart-foot').getByText('it cannot be decoded').waitFor()
  })

  describe('a recording', () => {
    it('is attached by the chooser, kept by the server, and drawn behind the bars', async () => {
      await choose('Clatter take 3.wav', wav)
      await page.locator('canvas.wave').first().waitFor()
      await expect.poll(inked).toBeGreaterThan(0)
      const { audio } = await song()
      expect(audio).toMatchObject({ name: 'Clatter take 3.wav', seconds: SECONDS, start: 0, level: 1 })
      expect(kept()).toEqual([audio!.file])
    })

    it('is moved by keys to the ms, and by typing', async () => {
      for (const name of ['Recording 100 ms earlier', 'Recording 10 ms later', 'Recording 1 ms earlier']) {
        await button(name).focus()
        await page.keyboard.press('Enter')
      }
      await expect.poll(async () => (await song()).audio?.start).toBeCloseTo(0.091, 6)
      await group().getByRole('spinbutton', { name: 'Bar 1 at' }).focus()
      await page.keyboard.press('1')
      await page.keyboard.type('.25')
      await page.keyboard.press('Enter')
      await expect.poll(async () => (await song()).audio?.start).toBeCloseTo(1.25, 6)
    })

    it('is moved by a drag on the chart, as far as the pointer goes in the song’s time; one undo takes it back', async () => {
      await button('Drag on chart').click()
      const hold = page.locator('.wave-hold').first()
      const box = (await hold.boundingBox())!
      const before = (await song()).audio!.start
      await page.mouse.move(box.x + 20, box.y + box.height / 2)
      await page.mouse.down()
      await page.mouse.move(box.x + 50, box.y + box.height / 2, { steps: 5 })
      await page.mouse.up()
      await expect.poll(async () => (await song()).audio!.start).toBeLessThan(before)
      await button('Drag on chart').click()
      await page.keyboard.press('Control+z')
      await expect.poll(async () => (await song()).audio!.start).toBeCloseTo(before, 6)
    })

    it('has its beats found, and bars laid on them in one step', async () => {
      await button('Find tempo and beats').click()
      await group()
        .getByText(/beats found, about 100\.\d a/)
        .waitFor()
      await picture(page, 'recording-beats')
      const before = await song()
      await button('Lay bars on it').click()
      await expect.poll(async () => (await song()).bpm).not.toBe(before.bpm)
      const after = await song()
      expect(after.bpm).toBeCloseTo(BPM, 1)
      expect(after.audio!.start).toBeCloseTo(FIRST, 2)
      await picture(page, 'recording-laid')
      await page.keyboard.press('Control+z')
      await expect.poll(async () => (await song()).bpm).toBe(before.bpm)
      expect((await song()).audio).toEqual(before.audio)
    })

    it('takes the pulse at half, and bar 1 a beat later', async () => {
      await button('Half').click()
      await group()
        .getByText(/about 50\.\d a/)
        .waitFor()
      await button('Bar 1 a beat later').click()
      await button('Lay bars on it').click()
      await expect.poll(async () => (await song()).bpm).toBeCloseTo(BPM / 2, 1)
      expect((await song()).audio!.start).toBeCloseTo(FIRST + 1.2, 2)
      await button('As found').click()
    })

    it('has a bar fitted by hand: the tempo bends up to it', async () => {
      const bar = group().getByRole('spinbutton', { name: 'Bar', exact: true })
      await bar.focus()
      await page.keyboard.press('5')
      await page.keyboard.press('Enter')
      const { audio } = await song()
      await group().getByRole('spinbutton', { name: 'begins at' }).focus()
      await page.keyboard.press('1')
      await page.keyboard.type('0')
      await page.keyboard.press('Enter')
      await expect.poll(async () => (await song()).bpm).toBeCloseTo((16 * 60) / (10 - audio!.start), 2)
    })

    it('is taken off the song, and put back by undo', async () => {
      const { audio } = await song()
      await button('Remove').click()
      await expect.poll(async () => (await song()).audio).toBeUndefined()
      await page.keyboard.press('Control+z')
      await expect.poll(async () => (await song()).audio).toEqual(audio)
      await expect.poll(inked).toBeGreaterThan(0)
    })

    it('left no fault in the page', () => expect(writing.faults).toEqual([]))
  })
})

describe('a song that begins with a recording', beginnings)
