// The rest of writing cues in a real browser: joining, stretching, snapping, level points, fades by key, pasting elsewhere,
// scrolling and zooming, fingers; what the page shows is what the server has.

import { fileURLToPath } from 'node:url'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue, Song } from '@glowchart/shared/show/song.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const out = fileURLToPath(new URL('../out', import.meta.url))
const BEAT = 960
const BAR = 4 * BEAT
let served: Served
let browser: Browser
let page: Page
let untouched: Show
const faults: string[] = []

async function open(options: Parameters<Browser['newPage']>[0]): Promise<Page> {
  const opened = await browser.newPage(options)
  opened.setDefaultTimeout(10_000)
  opened.on('pageerror', error => faults.push(String(error)))
  opened.on('console', message => message.type() === 'error' && faults.push(message.text()))
  await opened.goto(served.url)
  await opened.locator('.line').first().waitFor()
  return opened
}

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await open({ viewport: { width: 1440, height: 900 } })
  untouched = await serversShow()
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
})
/** Every test leaves the show as it was, so that all of them also test undo. */
afterEach(async () => {
  const undo = page.getByRole('button', { name: /^Undo: / })
  while ((await undo.count()) > 0) {
    await page.keyboard.press('Escape')
    await page.keyboard.press('Control+z')
  }
  await saved()
  expect(canonicalText(await serversShow())).toBe(canonicalText(untouched))
  await page.keyboard.press('Escape')
  await page.keyboard.press('Home')
})

async function serversShow(): Promise<Show> {
  const socket = await openPage(served.url, 'test-reader')
  socket.close()
  return socket.hello.show
}
const saved = () => page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
const offered = (says: RegExp) => page.getByRole('button', { name: says }).waitFor()
const foot = () => page.locator('.chart-foot p')

const songOf = (show: Show, index = 0): Song => show.songs[show.songOrder[index]!]!
const cuesOf = (song: Song): Map<string, Cue> =>
  new Map(Object.values(song.sections).flatMap(section => Object.entries(section.cues)))
/** The cues that are new or other than before, in order of time. */
async function written(index = 0): Promise<Cue[]> {
  await saved()
  const before = cuesOf(songOf(untouched, index))
  return [...cuesOf(songOf(await serversShow(), index))]
    .filter(([id, cue]) => JSON.stringify(before.get(id)) !== JSON.stringify(cue))
    .map(([, cue]) => cue)
    .sort((a, b) => a.at - b.at)
}

/** Bars 1… of the first line on the row of a part: where they are, and how wide. */
async function row(part: string, on = page): Promise<{ x: (bar: number) => number; y: number; bar: number }> {
  await on.locator('.chart').evaluate(chart => {
    chart.scrollTop = 0
  })
  // Lines far out of sight are not on the page: this one comes back.
  const first = on.locator('.line[aria-label$=", from bar 1"]')
  await first.waitFor()
  if (!(await first.evaluate(line => line.classList.contains('open')))) await first.locator('.gutter').click()
  const place = await first.evaluate((line, name) => {
    const notes = line.querySelector('.notes')!.getBoundingClientRect()
    const row = [...line.querySelectorAll('th')].find(th => th.textContent === name)!.getBoundingClientRect()
    return {
      left: notes.left,
      bar: notes.width / line.querySelectorAll('.bar-number').length,
      y: row.top + row.height / 2,
    }
  }, part)
  return { x: bar => place.left + (bar - 1) * place.bar, y: place.y, bar: place.bar }
}

async function drag(from: [number, number], to: [number, number], held?: string): Promise<void> {
  if (held) await page.keyboard.down(held)
  await page.mouse.move(...from)
  await page.mouse.down()
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2)
  await page.mouse.move(...to)
  await page.mouse.up()
  if (held) await page.keyboard.up(held)
}

/** Two cues of a bar that touch, bars 2 and 3 of the highest part, which is dark there in the demo; both chosen. */
async function twoThatTouch(): Promise<Awaited<ReturnType<typeof row>>> {
  const letters = await row('Letters')
  const { x, y } = letters
  await drag([x(2) + 3, y], [x(3) - 3, y])
  await offered(/^Undo: Add a cue/)
  // The edge of a chosen cue is held from outside too.
  await page.keyboard.press('Escape')
  await drag([x(3) + 3, y], [x(4) - 3, y])
  await page.getByRole('region', { name: /^Cue: / }).waitFor()
  await page.keyboard.down('Shift')
  await page.mouse.click(x(2.5), y)
  await page.keyboard.up('Shift')
  await page.getByText('2 cues', { exact: true }).first().waitFor()
  return letters
}

describe('cues that touch', () => {
  it('are joined by key into one', async () => {
    await twoThatTouch()
    await page.keyboard.press('j')
    await offered(/^Undo: Join/)
    expect(await written()).toMatchObject([{ at: BAR, length: 2 * BAR }])
  })

  it('are joined by the button too; alone, a cue is joined with the next', async () => {
    const { x, y } = await twoThatTouch()
    await page.mouse.click(x(2.5), y)
    await page.getByRole('button', { name: 'Join', exact: true }).click()
    await offered(/^Undo: Join/)
    expect(await written()).toMatchObject([{ at: BAR, length: 2 * BAR }])
  })

  it('that do not touch are not, and the foot of the chart says why', async () => {
    const { x, y } = await row('Letters')
    await drag([x(2) + 3, y], [x(3) - 3, y])
    await page.keyboard.press('j')
    await foot()
      .getByText(/^Nothing to join/)
      .waitFor()
    expect(await written()).toHaveLength(1)
  })
})

describe('stretching several cues', () => {
  it('by the outer edge keeps their proportions and that they touch', async () => {
    const { x, y } = await twoThatTouch()
    await drag([x(4) - 2, y], [x(6) - 2, y])
    await offered(/^Undo: Stretch 2 cues/)
    expect(await written()).toMatchObject([
      { at: BAR, length: 2 * BAR },
      { at: 3 * BAR, length: 2 * BAR },
    ])
  })

  it('by keys moves their end by a step of the grid, all in proportion', async () => {
    await twoThatTouch()
    await page.keyboard.press('Control+Shift+ArrowRight')
    await page.keyboard.press('Control+Shift+ArrowRight')
    expect(await written()).toMatchObject([
      { at: BAR, length: BAR + BEAT },
      { at: 2 * BAR + BEAT, length: BAR + BEAT },
    ])
  })

  it('by an inner edge changes that cue alone', async () => {
    const { x, y } = await twoThatTouch()
    await page.mouse.click(x(2.5), y)
    await page.keyboard.down('Shift')
    await page.mouse.click(x(3.5), y)
    await page.keyboard.up('Shift')
    await drag([x(3) - 2, y], [x(2.5), y])
    await offered(/^Undo: Length/)
    expect((await written()).map(cue => cue.length).sort((a, b) => a - b)).toEqual([2 * BEAT, BAR])
  })
})

describe('snapping', () => {
  const choose = (snap: string) => page.getByRole('combobox', { name: 'Snap' }).selectOption(snap)
  const drawnFrom = async (bars: number): Promise<Cue[]> => {
    const { x, y } = await row('Letters')
    await drag([x(bars), y], [x(7) - 1, y])
    return written()
  }

  it('follows what is chosen: triplets of eighths, sixteenths, bars', async () => {
    await choose('triplet')
    expect(await drawnFrom(2 + 0.36 / 4)).toMatchObject([{ at: BAR + 320 }])
    await page.keyboard.press('Control+z')
    await choose('sixteenth')
    expect(await drawnFrom(2 + 0.27 / 4)).toMatchObject([{ at: BAR + 240 }])
    await page.keyboard.press('Control+z')
    await choose('bar')
    expect(await drawnFrom(2.3)).toMatchObject([{ at: BAR }])
    await choose('zoom')
  })

  it('is off when it is chosen off, by key too', async () => {
    for (let i = 0; i < 6; i++) await page.locator('body').press('g')
    await foot().getByText('Snap is off.').waitFor()
    const [cue] = await drawnFrom(2.31)
    expect(cue!.at % 240).not.toBe(0)
    await page.keyboard.press('g')
    await foot().getByText('Snap: by zoom.').waitFor()
  })
})

describe('level points', () => {
  const point = (n: number) => page.getByRole('button', { name: new RegExp(`^Level point ${n} of`) })
  const levels = async () => {
    const [cue] = await written()
    return cue && !('look' in cue.light) ? cue.light.level : null
  }
  /** A cue over bars 2 to 5. */
  const drawn = async () => {
    const letters = await row('Letters')
    await drag([letters.x(2) + 3, letters.y], [letters.x(6) - 3, letters.y])
    await offered(/^Undo: Add a cue/)
    return letters
  }

  it('are added by a double click and dragged, up for brighter and along for later', async () => {
    const { x, y, bar } = await drawn()
    await page.mouse.dblclick(x(4), y)
    await point(2).waitFor()
    const box = (await point(2).boundingBox())!
    const from: [number, number] = [box.x + box.width / 2, box.y + box.height / 2]
    await drag(from, [from[0] + bar, from[1] + 8])
    const after = await levels()
    if (!Array.isArray(after)) throw new Error('no points')
    expect(after.map(p => p.at)).toEqual([0, 3 * BAR, 4 * BAR])
    expect(after[1]!.level).toBeLessThan(after[0]!.level - 0.2)
    await page.screenshot({ path: `${out}/cue-level.png` })
  })

  it('are drawn with keys alone', async () => {
    await drawn()
    await page.keyboard.press('v')
    await point(1).waitFor()
    await expect.poll(() => point(1).evaluate(p => p === document.activeElement)).toBe(true)
    await page.keyboard.press('Enter')
    await expect.poll(() => point(2).evaluate(p => p === document.activeElement)).toBe(true)
    for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Alt+ArrowRight')
    await page.keyboard.press('Escape')
    const after = await levels()
    if (!Array.isArray(after)) throw new Error('no points')
    expect(after[1]).toEqual({ at: 2 * BAR + BEAT, level: Math.round((after[0]!.level - 0.2) * 1000) / 1000 })
    await page.keyboard.press('v')
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Delete')
    await expect.poll(levels).toHaveLength(2)
    await page.getByRole('button', { name: 'One level' }).click()
    await expect.poll(levels).toBe(after[0]!.level)
  })
})

describe('fades by key', () => {
  it('move their tips with the arrows, and take their curve up and down', async () => {
    const { x, y } = await row('Letters')
    await drag([x(2) + 3, y], [x(6) - 3, y])
    await page.keyboard.press('f')
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowUp')
    await page.getByText('fade in 2 beats, soft').waitFor()
    await page.screenshot({ path: `${out}/cue-fade-key.png` })
    await page.keyboard.press('Escape')
    await page.keyboard.press('Shift+F')
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Escape')
    const fades = { fadeIn: { length: 2 * BEAT, curve: 'soft' }, fadeOut: { length: BEAT, curve: 'even' } }
    expect(await written()).toMatchObject([fades])
    await page.getByRole('combobox', { name: 'Out, curve' }).selectOption('late')
    await offered(/^Undo: Fades/)
    expect(await written()).toMatchObject([{ ...fades, fadeOut: { length: BEAT, curve: 'late' } }])
  })
})

describe('the keys', () => {
  it('C and M go to the colours and the motions of the cue, Escape back to the chart', async () => {
    await page.locator('body').press('ArrowRight')
    const focused = () => page.evaluate(() => document.activeElement?.getAttribute('data-reach') ?? '')
    await page.keyboard.press('c')
    await expect.poll(focused).toBe('colour')
    await page.keyboard.press('Escape')
    await expect.poll(focused).toBe('')
    await page.keyboard.press('m')
    await expect.poll(focused).toBe('motion')
    await page.keyboard.press('Escape')
    await page.getByRole('region', { name: /^Cue: / }).waitFor()
  })

  it('Enter folds and opens the line of the chosen cue', async () => {
    await page.locator('body').press('ArrowRight')
    const line = page.locator('.line').first().locator('.gutter')
    const was = await line.getAttribute('aria-expanded')
    await page.keyboard.press('Enter')
    await expect.poll(() => line.getAttribute('aria-expanded')).not.toBe(was)
    await page.keyboard.press('Enter')
    await expect.poll(() => line.getAttribute('aria-expanded')).toBe(was)
  })
})

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
    await page.screenshot({ path: `${out}/cue-refused.png` })
    await page.keyboard.press('Escape')
    await expect.poll(() => foot().textContent()).toBe('')
  })
})

describe('fingers', () => {
  it('place the playhead by a tap, choose by a long press, and never draw', async () => {
    const phone = await open({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
    const { x, y } = await row('Bulbs', phone)
    await phone.touchscreen.tap(x(3.5), y)
    await expect.poll(() => phone.locator('.playhead .nib').textContent()).toMatch(/^3\./)
    expect(await phone.getByRole('region', { name: /^Cue: / }).count()).toBe(0)
    const touch = await phone.context().newCDPSession(phone)
    const point = [{ x: x(5.5), y }]
    await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: point })
    await phone.getByRole('region', { name: /^Cue: / }).waitFor()
    await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    await phone.screenshot({ path: `${out}/cue-phone.png` })
    const panel = phone.getByRole('button', { name: 'Join', exact: true })
    await panel.scrollIntoViewIfNeeded()
    expect(await panel.isVisible()).toBe(true)
    await phone.close()
  })

  it('zoom by a pinch', async () => {
    const phone = await open({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
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
    await phone.close()
  })
})

it('meets no error on the page meanwhile', () => {
  expect(faults).toEqual([])
})
