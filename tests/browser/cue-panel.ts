// The cue column in a real browser: what is chosen on the chart is shown, and what is set there is in the server's show.
// Part of edit.test.ts, which serves it.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import type { Locator, Page } from 'playwright-core'
import { PNG } from 'pngjs'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { picture } from '../support/picture.ts'
import { writing } from './writing.ts'

let page: Page

const serversShow = (): Promise<Show> => writing.serversShow()
const porchlight = (show: Show) =>
  Object.values(show.songs).find(song => song.title === 'Porchlight Arithmetic')!

async function cueNamed(name: string): Promise<Cue> {
  const sections = Object.values(porchlight(await serversShow()).sections)
  return sections.flatMap(section => Object.values(section.cues)).find(cue => cue.name === name)!
}

async function lightOf(name: string): Promise<Light> {
  const { light } = await cueNamed(name)
  if ('look' in light) throw new Error(`${name} is of a look`)
  return light
}

const panel = (): Locator => page.getByRole('region', { name: /^Cue: / })
const figure = (name: string): Locator => panel().getByRole('spinbutton', { name, exact: true })

async function type(name: string, value: string): Promise<void> {
  await figure(name).press('Enter')
  await panel().getByRole('textbox', { name, exact: true }).fill(value)
  await page.keyboard.press('Enter')
}

/** The server answers within a moment, a longer one on a busy machine. */
const soon = <T>(read: () => Promise<T>) => expect.poll(read, { timeout: 10_000 })

/** Pixels of a picture that hold light, and how many tell it from another. */
async function differing(a: Locator, b: Locator): Promise<{ lit: number; apart: number }> {
  const [one, other] = [await a.screenshot(), await b.screenshot()].map(shot => PNG.sync.read(shot))
  let lit = 0
  let apart = 0
  for (let i = 0; i < one!.data.length; i += 4) {
    const level = Math.max(one!.data[i]!, one!.data[i + 1]!, one!.data[i + 2]!)
    if (level > 60) lit += 1
    if (Math.abs(level - Math.max(other!.data[i] ?? 0, other!.data[i + 1] ?? 0)) > 60) apart += 1
  }
  return { lit, apart }
}

export function cuePanel(): void {
  beforeAll(async () => {
    page = await writing.open()
  })
  afterAll(() => page?.close())

  it('takes the place of the songs when a cue is chosen on the chart', async () => {
    await page.getByRole('list', { name: 'Songs' }).waitFor()
    const plate = (await page.locator('.plate', { hasText: 'Stop' }).first().boundingBox())!
    await page.mouse.click(plate.x + plate.width / 2, plate.y + plate.height / 2)
    await page.getByRole('region', { name: 'Cue: Stop' }).waitFor()
    await panel().getByText('bar 40 to 41').waitFor()
    expect(await page.getByRole('list', { name: 'Songs' }).count()).toBe(0)
    expect(await panel().getByRole('radio', { name: 'Pulse' }).getAttribute('aria-checked')).toBe('true')
  })

  it('shows all twelve motions as pictures of light, and needs no scrolling', async () => {
    const tiles = panel().getByRole('radio')
    expect(await tiles.count()).toBe(12)
    await soon(async () => {
      const { lit, apart } = await differing(
        tiles.nth(0).locator('canvas'),
        panel().getByRole('radio', { name: 'Strobe' }).locator('canvas'),
      )
      return lit > 200 && apart > 200
    }).toBe(true)
    await picture(page, 'cue-panel-1440x900')
    const room = await page.locator('.side').evaluate(side => side.clientHeight - side.scrollHeight)
    expect(room).toBeGreaterThanOrEqual(0)
  })

  it('sets the motion, the level and the colour, and the server has them', async () => {
    await panel().getByRole('radio', { name: 'Chase' }).click()
    await type('Level', '60')
    await panel().getByRole('button', { name: 'Colour 1', exact: false }).click()
    await panel().getByRole('group', { name: 'Swatches' }).getByRole('button', { name: 'Dusk' }).click()
    const dusk = Object.entries((await serversShow()).swatches).find(([, { name }]) => name === 'Dusk')![0]
    await soon(async () => (await lightOf('Stop')).motion.kind).toBe('chase')
    await soon(async () => (await lightOf('Stop')).level).toBe(0.6)
    await soon(async () => {
      const { colours } = await lightOf('Stop')
      return colours.along === 'none' ? colours.colour : colours.stops[0]!.colour
    }).toEqual({ swatch: dusk })
  })

  it('steps a value with the arrows and drags it sideways, one change each', async () => {
    const level = figure('Level')
    await level.press('ArrowUp')
    await level.press('ArrowUp')
    await soon(async () => (await lightOf('Stop')).level).toBe(0.62)
    const box = (await level.boundingBox())!
    await page.mouse.move(box.x + 60, box.y + 10)
    await page.mouse.down()
    await page.mouse.move(box.x + 10, box.y + 10, { steps: 5 })
    expect(await level.getAttribute('aria-valuetext')).toBe('52 %')
    await page.mouse.up()
    await soon(async () => (await lightOf('Stop')).level).toBe(0.52)
  })

  it('takes a rate as a note value or in Hz, and a fade in beats', async () => {
    await type('A cycle', '1/8')
    await soon(async () => (await lightOf('Stop')).motion.rate).toEqual({ ticks: 480 })
    await type('A cycle', '1.5 Hz')
    await soon(async () => (await lightOf('Stop')).motion.rate).toEqual({ hz: 1.5 })
    await type('Fade in', '1')
    await soon(async () => (await cueNamed('Stop')).fadeIn?.length).toBe(960)
    await type('Fade in', 'none')
    await soon(async () => (await cueNamed('Stop')).fadeIn).toBeUndefined()
  })

  it('leaves everything as it was when what is typed says no value', async () => {
    await type('Level', 'loud')
    expect(await figure('Level').getAttribute('aria-valuetext')).toBe('52 %')
    expect((await lightOf('Stop')).level).toBe(0.52)
  })

  it('leaves a value that was only looked into, the keyboard where Tab put it, and the wheel at work', async () => {
    await type('Level', '52,4')
    await soon(async () => (await lightOf('Stop')).level).toBe(0.524)
    await figure('Level').click()
    const field = panel().getByRole('textbox', { name: 'Level', exact: true })
    await field.waitFor()
    await page.keyboard.press('Tab')
    await field.waitFor({ state: 'detached' })
    // Two repaints later nothing has taken the keyboard back.
    await page.evaluate('new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))')
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('Length')
    expect((await lightOf('Stop')).level).toBe(0.524)
    await figure('Level').hover()
    await page.mouse.wheel(0, -100)
    await soon(async () => (await lightOf('Stop')).level).toBe(0.53)
  })

  it('puts a drag back at Escape', async () => {
    const box = (await figure('Level').boundingBox())!
    await page.mouse.move(box.x + 60, box.y + 10)
    await page.mouse.down()
    await page.mouse.move(box.x + 10, box.y + 10, { steps: 5 })
    await page.keyboard.press('Escape')
    await page.mouse.up()
    await soon(() => figure('Level').getAttribute('aria-valuetext')).toBe('53 %')
    expect((await lightOf('Stop')).level).toBe(0.53)
  })

  it('renames the cue, and goes back to the songs', async () => {
    await panel().getByRole('textbox', { name: 'Name' }).fill('Full stop')
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: 'Cue: Full stop' }).waitFor()
    await soon(async () => (await cueNamed('Full stop'))?.name).toBe('Full stop')
    await panel().getByRole('button', { name: 'Songs' }).click()
    await page.getByRole('list', { name: 'Songs' }).waitFor()
  })

  it('changes the look of a cue that has one, until it is freed', async () => {
    const box = (await page
      .locator('td.cue', { hasText: 'Carry the one, Tubes, bar 33 to 40' })
      .first()
      .boundingBox())!
    await page.mouse.click(box.x + 100, box.y + box.height / 2)
    await page.getByRole('region', { name: 'Cue: Carry the one' }).waitFor()
    const levelInLook = async () => {
      const { parts, looks } = await serversShow()
      const [tubes] = Object.entries(parts).find(([, part]) => part.name === 'Tubes')!
      return Object.values(looks).find(look => look.name === 'Carry the one')!.parts[tubes]!.level
    }
    await type('Level', '70')
    await soon(levelInLook).toBe(0.7)
    await panel().getByRole('button', { name: 'Free here' }).click()
    await panel().getByText('Its own light').waitFor()
    await type('Level', '40')
    await soon(async () => {
      const cues = Object.values(porchlight(await serversShow()).sections).flatMap(s => Object.values(s.cues))
      return cues.some(cue => !('look' in cue.light) && cue.light.level === 0.4)
    }).toBe(true)
    expect(await levelInLook()).toBe(0.7)
  })

  it('has logged no error', () => {
    expect(writing.faults).toEqual([])
  })
}
