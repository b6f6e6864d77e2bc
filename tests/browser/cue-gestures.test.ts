// Cues joined, stretched, snapped, faded by key and levelled in points: what the page shows is what the server has.

import type { Cue } from '@glowchart/shared/show/song.ts'
import { describe, expect, it } from 'vitest'
import { picture } from '../support/picture.ts'
import './chart-page.ts'
import {
  BAR,
  BEAT,
  drag,
  faults,
  foot,
  offered,
  onTheDemo,
  page,
  row,
  twoThatTouch,
  written,
} from './cue-desk.ts'

onTheDemo()

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

describe('a key that is held down', () => {
  it('adds one cue, and no more', async () => {
    await row('Letters')
    await page.keyboard.down('a')
    await page.keyboard.down('a')
    await page.keyboard.up('a')
    await offered(/^Undo: Add a cue/)
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
    await picture(page, 'cue-level')
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
    await picture(page, 'cue-fade-key')
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

it('meets no error on the page meanwhile', () => {
  expect(faults).toEqual([])
})
