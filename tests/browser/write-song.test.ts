// A four-minute song written from nothing in a real browser: with the mouse alone, with the keys alone, and either way with
// a first draft of its light. Both hands give the same levels in every frame, and the gestures they took are counted.

import type { Locator, Page } from 'playwright-core'
import { beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { picture } from '../support/picture.ts'
import { levelsOnDisk, showOnDisk } from '../support/song-levels.ts'
import { keysOn, middleOf, mouseOn, type Point } from './hands.ts'
import { offered, onOneDemo, saved, songCalled, writing } from './writing.ts'

/** 128 bars of 4/4: at 128 beats a minute, four minutes. */
const LINE = 'Intro 8, Verse 16, Chorus 16, Verse, Chorus, Bridge 16, Solo 8, Chorus, Outro 16'
const TEMPO = '128'
/** The looks, and the bars where they begin: the repeats of verse and chorus follow their first. */
const LOOKS = [
  ['Porch lamps', 1],
  ['Long division', 9],
  ['It all adds up', 25],
  ['Carry the one', 33],
  ['Chalk dust', 73],
  ['Seven drawers', 89],
  ['Landing lights', 113],
] as const
const SECONDS = 240

let page: Page
onOneDemo()
beforeAll(async () => {
  page = await writing.open()
  await page.locator('.line').first().waitFor()
})
/** Each pair of hands begins where the demo's first song stands on the page, and nothing is chosen. */
beforeEach(async () => {
  await page.keyboard.press('Escape')
  await page.keyboard.press('Escape')
  await page
    .getByRole('list', { name: 'Songs' })
    .getByRole('button', { name: 'Porchlight Arithmetic' })
    .click()
  await title(page, 'Porchlight Arithmetic')
})

const title = (page: Page, text: string) =>
  page.getByRole('heading', { name: text, exact: true, level: 1 }).waitFor()
const position = (page: Page, place: string) =>
  page.getByLabel('Position', { exact: true }).getByText(place, { exact: true }).waitFor()

/** What the two by hand have in common besides their levels: the light is of looks and of cues of one's own. */
function expectByHand(name: string): void {
  const song = songCalled(showOnDisk(writing.served.data), name)
  const cues = Object.values(song.sections).flatMap(section => Object.values(section.cues))
  const own = cues.flatMap(cue => ('look' in cue.light ? [] : [{ ...cue, motion: cue.light.motion.kind }]))
  expect(song.sectionOrder.filter(id => song.sections[id]!.sameAs)).toHaveLength(3)
  expect(own.map(({ motion }) => motion).sort()).toEqual(['sway', 'swell'])
  expect(own.filter(cue => cue.fadeIn)).toHaveLength(1)
  expect(own.filter(cue => cue.fadeOut)).toHaveLength(1)
}

function report(how: string, log: readonly string[], most: number): void {
  console.log(`a 4-minute song from nothing, ${how}: ${log.length} gestures\n  ${log.join('; ')}`)
  expect(log.length).toBeLessThanOrEqual(most)
}

function expectSameLevels(one: string, other: string): void {
  const a = levelsOnDisk(writing.served.data, one)
  const b = levelsOnDisk(writing.served.data, other)
  expect(a.frames).toBe(SECONDS * showOnDisk(writing.served.data).output.rate)
  expect(a.levels.some(level => level > 0)).toBe(true)
  expect(Buffer.compare(a.levels, b.levels)).toBe(0)
}

/** Where a bar begins on the page; on the row of a part, which the line must be open for, or across the line. */
async function spot(page: Page, bar: number, part: string | null): Promise<Point> {
  const found = await page.evaluate(
    ([bar, part]) => {
      const numbers = document.querySelectorAll('.line.open .bar-number')
      const width = numbers[1]!.getBoundingClientRect().left - numbers[0]!.getBoundingClientRect().left
      for (const line of document.querySelectorAll('.line')) {
        const from = Number(/from bar (\d+)$/.exec(line.getAttribute('aria-label') ?? '')?.[1])
        const notes = line.querySelector('.notes')!.getBoundingClientRect()
        if (bar < from || bar >= from + Math.round(notes.width / width)) continue
        const row = [...line.querySelectorAll('th')].find(th => th.textContent === part)
        const on = (row ?? line.querySelector('.notes')!).getBoundingClientRect()
        return { x: notes.left + (bar - from) * width, y: on.top + on.height / 2, width }
      }
      return null
    },
    [bar, part] as const,
  )
  expect(found, `bar ${bar} on the page`).not.toBeNull()
  return found!
}

const lineOf = (page: Page, bar: number): Locator => page.locator(`.line[aria-label$=", from bar ${bar}"]`)

/** The draft on the page is the one of this number. */
const draftStands = (page: Page, number: number) =>
  page.getByRole('region', { name: 'Rough in' }).getByText(`Draft ${number}`, { exact: true }).waitFor()

async function writeByMouse(page: Page, name: string): Promise<readonly string[]> {
  const hand = mouseOn(page)
  const chart = page.getByRole('region', { name: 'Chart', exact: true })
  const side = page.getByRole('complementary', { name: 'Side' })
  await hand.click(page.getByRole('button', { name: 'New song' }))
  await hand.typed(name)
  await hand.click(page.getByRole('textbox', { name: 'Tempo' }))
  await hand.typed(TEMPO)
  await hand.click(page.getByLabel('Sections and their bars'))
  await hand.typed(LINE)
  await hand.click(page.getByRole('checkbox', { name: /^Rough in/ }))
  await hand.click(page.getByRole('button', { name: 'Add the song' }))
  await title(page, name)
  await saved(page)

  const tiles = page.getByRole('region', { name: 'Looks' })
  await hand.wheelTo(tiles.getByRole('button', { name: 'Small moon' }), side)
  for (const [look, bar] of LOOKS) {
    await hand.wheelTo(lineOf(page, bar === 33 ? 25 : bar).locator('.notes'), chart)
    const to = await spot(page, bar, null)
    await hand.drag(
      await middleOf(tiles.getByRole('button', { name: look, exact: true })),
      { ...to, x: to.x + 3 },
      `${look} to bar ${bar}`,
    )
    await offered(page, new RegExp(`^Undo: Place ${look}`))
  }

  // Two cues by hand, on the letters, which the looks leave out there.
  const letters = async (from: number, to: number) => {
    const line = lineOf(page, from)
    await hand.wheelTo(line.locator('.notes'), chart)
    if (!(await line.evaluate(one => one.classList.contains('open'))))
      await hand.click(line.locator('.gutter'))
    await line.getByRole('rowheader', { name: 'Letters' }).waitFor()
    const start = await spot(page, from, 'Letters')
    const last = await spot(page, to - 1, 'Letters')
    const x = { from: start.x + 2, to: last.x + (await spot(page, from + 1, null)).x - start.x - 2 }
    await hand.drag({ x: x.from, y: start.y }, { x: x.to, y: start.y }, `letters ${from} to ${to}`)
    await page.getByRole('region', { name: /^Cue: / }).waitFor()
    return { from: x.from - 2, to: x.to + 2, line }
  }
  const fade = async (at: { from: number; to: number; line: Locator }, side: 'in' | 'out', beats: number) => {
    const cell = (await at.line.locator('td.cue.chosen').boundingBox())!
    // The corner of its bracket, over the name in the middle of the row.
    const y = cell.y - 1
    const beat = (at.to - at.from) / 64
    const x = side === 'in' ? cell.x + 4 : cell.x + cell.width - 4
    await hand.drag({ x, y }, { x: x + (side === 'in' ? beats : -beats) * beat, y }, `fade ${side}`)
    await offered(page, /^Undo: Fade/)
  }
  const verse = await letters(9, 25)
  await hand.click(page.getByRole('radio', { name: 'Sway' }))
  await hand.click(
    page.getByRole('group', { name: 'Swatches' }).getByRole('button', { name: 'Dusk', exact: true }),
  )
  await offered(page, /^Undo: Colour of/)
  await fade(verse, 'in', 1)
  const bridge = await letters(73, 89)
  await fade(bridge, 'out', 1)
  await saved(page)
  return hand.log
}

async function writeByKeys(page: Page, name: string): Promise<readonly string[]> {
  const hand = keysOn(page)
  await hand.press('w')
  await page.getByRole('textbox', { name: 'Title' }).and(page.locator(':focus')).waitFor()
  await hand.typed(name)
  await hand.press('Tab')
  await hand.typed(TEMPO)
  await hand.press('Tab', 'Tab')
  await hand.typed(LINE)
  await hand.press('Tab', 'Tab', 'Space', 'Enter')
  await title(page, name)
  await saved(page)

  const goTo = async (bar: number) => {
    await hand.typed(String(bar))
    await hand.press('Enter')
    await position(page, `${bar}.1`)
  }
  for (const [look, bar] of LOOKS) {
    // The next section by its key, elsewhere by number.
    if (bar === 9 || bar === 25 || bar === 89) {
      await hand.press(']')
      await position(page, `${bar}.1`)
    } else if (bar > 1) await goTo(bar)
    await hand.press('k')
    await page
      .getByRole('searchbox', { name: /^Find a look/ })
      .and(page.locator(':focus'))
      .waitFor()
    await hand.typed(look)
    await hand.press('Enter')
    await offered(page, new RegExp(`^Undo: Place ${look}`))
  }

  // Two cues by hand, on the letters, which the looks leave out there.
  await goTo(9)
  await hand.press('Escape', 'Shift+A')
  await page.getByRole('region', { name: 'Cue: Answer' }).waitFor()
  await hand.press('m', 'ArrowLeft', 'Enter')
  await page.getByRole('region', { name: 'Cue: Sway' }).waitFor()
  await hand.press('c', 'ArrowDown', 'ArrowLeft', 'Enter')
  await offered(page, /^Undo: Colour of/)
  await hand.press('f', 'ArrowRight')
  await offered(page, /^Undo: Fade/)
  await goTo(73)
  await hand.press('Shift+A')
  await page.getByRole('region', { name: 'Cue: Swell' }).waitFor()
  await hand.press('Shift+F', 'ArrowLeft')
  await offered(page, /^Undo: Fade/)
  await saved(page)
  return hand.log
}

describe('a four-minute song from nothing', { timeout: 180_000 }, () => {
  it('is written with the mouse alone in at most 60 gestures', async () => {
    const log = await writeByMouse(page, 'By Mouse')
    await picture(page, 'write-song-mouse')
    expectByHand('By Mouse')
    report('by hand, with the mouse alone', log, 60)
  })

  it('is written with the keys alone in at most 60 gestures', async () => {
    const log = await writeByKeys(page, 'By Keys')
    await picture(page, 'write-song-keys')
    expectByHand('By Keys')
    report('by hand, with the keys alone', log, 60)
  })

  it('has the same levels in every frame, by mouse and by keys', () =>
    expectSameLevels('By Mouse', 'By Keys'))

  it('is roughed in with the mouse alone in fewer than 15 gestures', async () => {
    const hand = mouseOn(page)
    const begin = page.getByRole('button', { name: 'New song' })
    await hand.wheelTo(begin, page.getByRole('complementary', { name: 'Side' }))
    await hand.click(begin)
    await hand.typed('Rough By Mouse')
    await hand.click(page.getByRole('textbox', { name: 'Tempo' }))
    await hand.typed(TEMPO)
    await hand.click(page.getByLabel('Sections and their bars'))
    await hand.typed(LINE)
    await hand.click(page.getByRole('button', { name: 'Add the song' }))
    await offered(page, /^Undo: Rough in "Rough By Mouse"/)
    await hand.click(page.getByRole('button', { name: 'Another draft' }))
    await draftStands(page, 2)
    await hand.click(page.getByRole('button', { name: 'Keep it' }))
    await saved(page)
    report('with a first draft, with the mouse alone', hand.log, 14)
  })

  it('is roughed in with the keys alone in fewer than 15 gestures', async () => {
    const hand = keysOn(page)
    await hand.press('w')
    await page.getByRole('textbox', { name: 'Title' }).and(page.locator(':focus')).waitFor()
    await hand.typed('Rough By Keys')
    await hand.press('Tab')
    await hand.typed(TEMPO)
    await hand.press('Tab', 'Tab')
    await hand.typed(LINE)
    await hand.press('Enter')
    await offered(page, /^Undo: Rough in "Rough By Keys"/)
    // The draft's panel has the keys, and they are on what keeps it.
    await hand.press('Tab', 'Enter')
    await draftStands(page, 2)
    await hand.press('Escape')
    await saved(page)
    report('with a first draft, with the keys alone', hand.log, 14)
  })

  it('has the same levels in every frame of the same draft, by mouse and by keys', () =>
    expectSameLevels('Rough By Mouse', 'Rough By Keys'))

  it('met no error on the page meanwhile', () => {
    expect(writing.faults).toEqual([])
  })
})
