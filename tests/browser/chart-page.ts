// Cues pasted elsewhere and dragged, lines scrolled, zoomed and opened, fingers: what the page shows is what the server has.
// Part of cue-gestures.test.ts, whose page it has.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'

import { picture } from '../support/picture.ts'
import {
  BAR,
  drag,
  foot,
  open,
  page,
  row,
  serversShow,
  songOf,
  twoThatTouch,
  untouched,
  written,
} from './cue-desk.ts'

describe('pasting', () => {
  it('into another song puts cues on the parts of the same name, and says from where', async () => {
    await twoThatTouch()
    await page.keyboard.press('Control+c')
    await foot().getByText('2 cues copied.').waitFor()
    await page.keyboard.press('Escape')
    const songs = page.getByRole('list', { name: 'Songs' }).getByRole('button')
    const [first, second] = [songOf(untouched, 0), songOf(untouched, 1)]
    await songs.filter({ hasText: second.title }).click()
    await page.getByRole('heading', { level: 1, name: second.title }).waitFor()
    await page.locator('body').press('Control+v')
    await foot().getByText(`2 cues pasted from ${first.title} at bar 1.`).waitFor()
    const pasted = await written(1)
    expect(pasted.map(cue => cue.length)).toEqual([BAR, BAR])
    const show = await serversShow()
    const parts = new Set(pasted.map(cue => show.parts[songOf(show, 1).tracks[cue.track]!.part]!.name))
    expect([...parts]).toEqual(['Letters'])
    await page.keyboard.press('Escape')
    await songs.filter({ hasText: first.title }).click()
    await page.getByRole('heading', { level: 1, name: first.title }).waitFor()
  })

  it('on the part of the chosen cue keeps the order of the parts', async () => {
    const { x, y } = await row('Letters')
    await drag([x(2) + 3, y], [x(3) - 3, y])
    await page.keyboard.press('Control+c')
    const tubes = await row('Tubes')
    await drag([tubes.x(2) + 3, tubes.y], [tubes.x(3) - 3, tubes.y])
    await page.keyboard.press('Control+Shift+v')
    await foot().getByText('A cue pasted at bar 1.').waitFor()
    const show = await serversShow()
    const song = songOf(show)
    const parts = (await written()).map(cue => `${show.parts[song.tracks[cue.track]!.part]!.name} ${cue.at}`)
    expect(parts.sort()).toEqual([`Letters ${BAR}`, 'Tubes 0', `Tubes ${BAR}`])
  })
})

describe('the page of lines', () => {
  const top = () => page.locator('.chart').evaluate(chart => chart.scrollTop)
  const tops = () =>
    page.locator('.line').evaluateAll(lines => lines.map(line => (line as HTMLElement).offsetTop))

  it('opens a folded line on a press on one of its cues, and chooses it', async () => {
    const folded = page.locator('.line:not(.open)').first()
    await folded.scrollIntoViewIfNeeded()
    const name = await folded.getAttribute('aria-label')
    const notes = (await folded.locator('.notes').boundingBox())!
    await page.mouse.click(notes.x + 60, notes.y + notes.height / 2)
    await page.getByRole('region', { name: /^Cue: / }).waitFor()
    const line = page.getByRole('article', { name: name! })
    await expect.poll(() => line.getAttribute('class')).toBe('line open')
    await line.locator('.gutter').click()
  })

  it('scrolls by whole lines', async () => {
    await page.setViewportSize({ width: 1440, height: 560 })
    await page.locator('.chart').evaluate(chart => {
      chart.scrollTop = 0
    })
    await page.mouse.move(600, 300)
    await page.mouse.wheel(0, 100)
    await expect.poll(top).toBeGreaterThan(0)
    const [, second] = await tops()
    expect(await top()).toBe(second! - 6)
    await page.mouse.wheel(0, -100)
    await expect.poll(top).toBe(0)
    await page.setViewportSize({ width: 1440, height: 900 })
  })

  it('keeps the bar under the pointer on its height while the wheel changes the bars a line', async () => {
    await page.locator('.chart').evaluate(chart => {
      chart.scrollTop = 0
    })
    const third = page.locator('.line').nth(2)
    const name = (await third.getAttribute('aria-label'))!
    const box = (await third.locator('.notes').boundingBox())!
    const at: [number, number] = [box.x + 20, box.y + box.height / 2]
    await page.mouse.move(...at)
    await page.keyboard.down('Control')
    await page.mouse.wheel(0, -100)
    await page.keyboard.up('Control')
    await page.getByText('8 bars a line').waitFor()
    const after = (await page.getByRole('article', { name }).first().locator('.notes').boundingBox())!
    expect(after.y).toBeLessThan(at[1])
    expect(after.y + after.height).toBeGreaterThan(at[1])
    await page.keyboard.press('+')
    await page.getByText('16 bars a line').waitFor()
  })

  it('scrolls by itself while a cue is dragged to its edge', async () => {
    await page.locator('.chart').evaluate(chart => {
      chart.scrollTop = 0
    })
    const { x, y } = await row('Letters')
    const chart = (await page.locator('.chart').boundingBox())!
    await page.mouse.move(x(2) + 3, y)
    await page.mouse.down()
    await page.mouse.move(x(3), y + 20)
    await page.mouse.move(x(3), chart.y + chart.height - 3)
    await expect.poll(top).toBeGreaterThan(100)
    await page.keyboard.press('Escape')
    const rested = await top()
    await page.mouse.up()
    expect(await top()).toBe(rested)
  })
})

describe('a drag', () => {
  it('shows its light before it is let go', async () => {
    const { x, y, bar } = await row('Letters')
    const clip = { x: x(2), y: y - 8, width: 2 * bar, height: 16 }
    const lit = () =>
      page.locator('.line[aria-label$=", from bar 1"] canvas').evaluate((canvas: HTMLCanvasElement, at) => {
        const box = canvas.getBoundingClientRect()
        const scale = canvas.width / box.width
        const area = [at.x - box.left, at.y - box.top, at.width, at.height].map(v => Math.round(v * scale))
        const { data } = canvas.getContext('2d')!.getImageData(area[0]!, area[1]!, area[2]!, area[3]!)
        let sum = 0
        for (let i = 3; i < data.length; i += 4) if (data[i]! > 60) sum += 1
        return sum / (data.length / 4)
      }, clip)
    const before = await lit()
    await page.mouse.move(x(2) + 3, y)
    await page.mouse.down()
    await page.mouse.move(x(3), y)
    await page.mouse.move(x(4) - 3, y)
    await expect.poll(lit).toBeGreaterThan(before + 0.2)
    await page.keyboard.press('Escape')
    await page.mouse.up()
    await expect.poll(lit).toBe(before)
  })

  it('that is refused says so under the score, with what to do', async () => {
    await page.locator('body').press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    await page.getByRole('region', { name: 'Cue: Porch lamps' }).waitFor()
    await page.keyboard.press('Shift+ArrowUp')
    await foot()
      .getByText(/^Not done: the level of this cue comes from the look "Porch lamps"\. ./)
      .waitFor()
    await picture(page, 'cue-refused')
    await page.keyboard.press('Escape')
    await expect.poll(() => foot().textContent()).toBe('')
  })
})

describe('fingers', () => {
  let phone: Page
  beforeAll(async () => {
    phone = await open({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
  })
  afterAll(() => phone?.close())

  it('place the playhead by a tap, choose by a long press, and never draw', async () => {
    const { x, y } = await row('Bulbs', phone)
    await phone.touchscreen.tap(x(3.5), y)
    await expect.poll(() => phone.locator('.playhead .nib').textContent()).toMatch(/^3\./)
    expect(await phone.getByRole('region', { name: /^Cue: / }).count()).toBe(0)
    const touch = await phone.context().newCDPSession(phone)
    const point = [{ x: x(5.5), y }]
    await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: point })
    await phone.getByRole('region', { name: /^Cue: / }).waitFor()
    await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    await picture(phone, 'cue-phone')
    const panel = phone.getByRole('button', { name: 'Join', exact: true })
    await panel.scrollIntoViewIfNeeded()
    expect(await panel.isVisible()).toBe(true)
  })

  it('zoom by a pinch', async () => {
    const bars = () => phone.locator('.line.open').first().locator('.bar-number').count()
    const { y } = await row('Letters', phone)
    await expect.poll(bars).toBe(8)
    const touch = await phone.context().newCDPSession(phone)
    const fingers = (apart: number) => [
      { x: 220 - apart, y, id: 1 },
      { x: 220 + apart, y, id: 2 },
    ]
    await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: fingers(30) })
    for (const apart of [40, 50, 60]) {
      await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: fingers(apart) })
    }
    await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    await expect.poll(bars).toBe(4)
  })
})
