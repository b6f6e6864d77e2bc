// Shaping sections in a real browser, by mouse and by key: the server's file on disk is what is looked at.

import { mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { parseShow } from '@glowchart/shared/show/document.ts'
import type { Section, Song } from '@glowchart/shared/show/song.ts'
import { cuePlaces, timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const out = fileURLToPath(new URL('../out', import.meta.url))
const BAR = 4 * 960
let served: Served
let browser: Browser
let page: Page
let atFirst = ''
const faults: string[] = []

beforeAll(async () => {
  mkdirSync(out, { recursive: true })
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 1300 } })
  page.setDefaultTimeout(15_000)
  page.on('pageerror', error => faults.push(String(error)))
  page.on('console', message => message.type() === 'error' && faults.push(message.text()))
  await page.goto(served.url)
  await mark('Chorus 1').waitFor()
  atFirst = file()
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

/** Every test ends where it began, to the byte. */
afterEach(async () => {
  await page.keyboard.press('Escape')
  await page.keyboard.press('Escape')
  await undoAll()
  expect(file()).toBe(atFirst)
})

/** The show's file as it stands on the server's disk. */
function file(): string {
  const folder = join(served.data, 'shows')
  return readFileSync(join(folder, readdirSync(folder).find(name => name.endsWith('.json'))!), 'utf8')
}
const songIn = (text: string): Song =>
  Object.values(parseShow(JSON.parse(text), 'show').songs).find(s => s.title === 'Porchlight Arithmetic')!
const section = (name: string, song = songIn(file())): Section =>
  Object.values(song.sections).find(one => one.name === name)!
const names = (): string[] => {
  const song = songIn(file())
  return song.sectionOrder.map(id => song.sections[id]!.name)
}

const saved = () => page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
const soon = <T>(read: () => T) => expect.poll(read, { timeout: 10_000 })
const mark = (name: string): Locator =>
  page.getByRole('button', { name: new RegExp(`^Section ${name}(,|$)`) })
const panel = (name = ''): Locator => page.getByRole('region', { name: new RegExp(`^Section: ${name}`) })
const focused = (): Promise<string | null> =>
  page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? null)

async function undoAll(): Promise<void> {
  const undo = page.getByRole('button', { name: /^Undo: / })
  while ((await undo.count()) > 0) {
    await saved()
    const before = file()
    await undo.first().click()
    await soon(file).not.toBe(before)
  }
  await saved()
}

async function type(name: string, value: string): Promise<void> {
  await panel().getByRole('spinbutton', { name, exact: true }).press('Enter')
  await panel().getByRole('textbox', { name, exact: true }).fill(value)
  await page.keyboard.press('Enter')
}

async function centre(of: Locator): Promise<{ x: number; y: number }> {
  await of.scrollIntoViewIfNeeded()
  const box = (await of.boundingBox())!
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}

async function drag(from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> {
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2)
  await page.mouse.move(to.x, to.y)
}

/** Where every cue is played: start and length in ticks, by section and cue. */
function played(song: Song): Map<string, [at: number, length: number]> {
  return new Map(
    cuePlaces(song, timelineOf(song)).map(p => [`${p.section} ${p.id}`, [p.at, p.length] as const]),
  ) as Map<string, [number, number]>
}

/** Where a cue should be played once bars are put in so many bars into each of the sections named. */
function expected(song: Song, into: Record<string, number>, count: number): Map<string, [number, number]> {
  const { sections } = timelineOf(song)
  const spanOf = (id: string) => sections.find(s => s.id === id)!
  return new Map(
    [...played(song)].map(([key, [at, length]]) => {
      const home = spanOf(key.split(' ')[0]!)
      const before = sections.filter(s => s.index < home.index && into[s.id] !== undefined).length
      const place = into[home.id] === undefined ? null : home.start + into[home.id]! * BAR
      const moves = before + (place !== null && at >= place ? 1 : 0)
      const grows = place !== null && at < place && at + length > place
      return [key, [at + moves * count * BAR, length + (grows ? count * BAR : 0)]]
    }),
  )
}

describe('inserting bars', () => {
  it('before the last chorus: every later cue moves, the linked chorus too; undo restores the file byte for byte', async () => {
    const before = songIn(file())
    await mark('Bridge').click()
    await panel('Bridge').waitFor()
    await type('Before', 'end')
    await type('Count', '2')
    await panel().getByRole('button', { name: 'Insert 2 bars' }).click()
    await soon(() => section('Bridge').bars).toBe(10)
    await saved()
    const after = songIn(file())
    const { chorus3, bridge } = Object.fromEntries(timelineOf(before).sections.map(s => [s.id, s]))
    const moved = timelineOf(after).sections.find(s => s.id === 'chorus3')!
    expect(moved.start).toBe(chorus3!.start + 2 * BAR)
    expect(moved.source).toBe('chorus1')
    expect(played(after)).toEqual(expected(before, { bridge: bridge!.bars }, 2))
    expect([...played(after)].filter(([key]) => key.startsWith('chorus3 ')).length).toBeGreaterThan(5)

    await page.keyboard.press('Control+z')
    await soon(file).toBe(atFirst)
    expect(atFirst).toBe(canonicalText(JSON.parse(atFirst)))
  })

  it('into the source chorus, at bars looped along their numbers: the linked choruses grow with it', async () => {
    const before = songIn(file())
    const opened = page.locator('.line', { has: mark('Chorus 1') })
    if (!(await opened.getAttribute('class'))!.includes('open')) await opened.locator('.gutter').click()
    const [from, to] = [
      await centre(opened.getByText('29', { exact: true })),
      await centre(opened.getByText('30', { exact: true })),
    ]
    await drag(from, to)
    await page.mouse.up()
    await panel('Chorus 1').waitFor()
    await soon(() => panel().getByRole('spinbutton', { name: 'Before' }).getAttribute('aria-valuetext')).toBe(
      'bar 5',
    )
    await panel().getByText('Chorus 2 and Last chorus follow.').waitFor()
    await page.keyboard.press('i')
    await soon(() => section('Chorus 1').bars).toBe(18)
    await saved()
    const after = songIn(file())
    expect([section('Chorus 2').bars, section('Last chorus').bars]).toEqual([18, 18])
    expect(played(after)).toEqual(expected(before, { chorus1: 4, chorus2: 4, chorus3: 4 }, 2))
    await page.screenshot({ path: `${out}/sections-inserted.png` })

    await page.keyboard.press('Shift+Delete')
    await soon(() => section('Chorus 1').bars).toBe(16)
    await saved()
    await undoAll()
    expect(file()).toBe(atFirst)
  })
})

describe('dragging a rehearsal mark', () => {
  it('between lines moves the section, and says where; Escape drops it', async () => {
    const [bridge, verse] = [await centre(mark('Bridge')), await centre(mark('Verse 2'))]
    await drag(bridge, { x: verse.x, y: verse.y - 34 })
    await page.locator('.nib.dragged').getByText('Move Bridge before Verse 2', { exact: true }).waitFor()
    await page.screenshot({ path: `${out}/sections-moving.png` })
    await page.keyboard.press('Escape')
    await page.locator('.nib.dragged').waitFor({ state: 'detached' })
    await page.mouse.up()
    await saved()
    expect(file()).toBe(atFirst)

    await drag(bridge, { x: verse.x, y: verse.y - 34 })
    await page.mouse.up()
    await soon(names).toEqual([
      'Intro',
      'Verse 1',
      'Chorus 1',
      'Bridge',
      'Verse 2',
      'Chorus 2',
      'Last chorus',
      'Out',
    ])
    await panel('Bridge').waitFor()
  })

  it('with Alt leaves a copy there', async () => {
    const [intro, verse] = [await centre(mark('Intro')), await centre(mark('Verse 2'))]
    await page.keyboard.down('Alt')
    await drag(intro, { x: verse.x, y: verse.y - 34 })
    await page.locator('.nib.dragged').getByText('Copy Intro before Verse 2', { exact: true }).waitFor()
    await page.mouse.up()
    await page.keyboard.up('Alt')
    await soon(names).toEqual([
      'Intro',
      'Verse 1',
      'Chorus 1',
      'Intro',
      'Verse 2',
      'Chorus 2',
      'Bridge',
      'Last chorus',
      'Out',
    ])
  })

  it('onto another asks how it lands, says what its length does, and Escape leaves all as it was', async () => {
    const onto = async () => {
      const [verse, bridge] = [await centre(mark('Verse 1')), await centre(mark('Bridge'))]
      await drag(verse, bridge)
      await page.locator('.nib.dragged').getByText('Copy Verse 1 onto Bridge').waitFor()
      await page.mouse.up()
      await page.getByRole('dialog', { name: 'Verse 1 onto Bridge' }).waitFor()
    }
    await onto()
    await page.getByText('Verse 1 is longer: it is cut after 8 bars.').waitFor()
    await page.screenshot({ path: `${out}/sections-landing.png` })
    await page.keyboard.press('Escape')
    await page.getByRole('dialog', { name: 'Verse 1 onto Bridge' }).waitFor({ state: 'detached' })
    await soon(focused).toBe('Section Bridge')
    expect(file()).toBe(atFirst)

    await onto()
    await page.getByRole('button', { name: 'Take its place' }).click()
    const looks = (name: string) =>
      Object.values(section(name).cues)
        .filter(cue => cue.at < 8 * BAR)
        .map(cue => `${cue.track} ${cue.at} ${'look' in cue.light ? cue.light.look : cue.light.motion.kind}`)
        .sort()
    await soon(() => looks('Bridge')).toEqual(looks('Verse 1'))
    expect(section('Bridge').bars).toBe(8)
    expect(section('Bridge').note).toBe(section('Bridge', songIn(atFirst)).note)
    await undoAll()

    await onto()
    await page.getByRole('button', { name: 'Repeat, linked' }).click()
    await soon(() => section('Bridge').sameAs?.section).toBe('verse1')
  })

  it('pulls the end of a section by whole bars', async () => {
    const end = await centre(page.locator('[data-end="bridge"]'))
    const notes = (await page
      .locator('.line', { has: mark('Bridge') })
      .locator('.notes')
      .boundingBox())!
    const bar = notes.width / 8
    await drag(end, { x: end.x - 2.2 * bar, y: end.y })
    await page
      .locator('.nib.dragged')
      .getByText(/^Bridge, 6 bars/)
      .waitFor()
    await page.mouse.up()
    await soon(() => section('Bridge').bars).toBe(6)
  })
})

describe('the section column', () => {
  it('sets name, mark, vamp, meters and tempo marks', async () => {
    await mark('Bridge').click()
    await panel().getByRole('textbox', { name: 'Name' }).fill('Middle eight')
    await page.keyboard.press('Enter')
    await panel('Middle eight').waitFor()
    await panel().getByRole('textbox', { name: 'Rehearsal mark' }).fill('M')
    await page.keyboard.press('Enter')
    await panel().getByRole('button', { name: 'Vamp' }).click()
    await panel().getByRole('button', { name: 'Add a meter change' }).click()
    await type('Meter change 1', '7/8')
    await panel().getByRole('button', { name: 'Add a tempo mark' }).click()
    await type('Tempo mark 1, place', '3.1')
    await type('Tempo mark 1, quarter notes a minute', '90')
    await type('Tempo mark 1, glide', '7 beats')
    await soon(() => section('Middle eight')).toMatchObject({
      mark: 'M',
      vamp: true,
      meters: [{ bar: 0, meter: { beats: 7, unit: 8 } }],
      tempo: [{ at: 2 * 7 * 480, bpm: 90, glide: 7 * 960 }],
    })
    await page.getByRole('img', { name: 'Tempo from 112 to 90, between 90 and 112' }).waitFor()
    await panel().getByRole('button', { name: 'Remove tempo mark 1' }).click()
    await soon(() => section('Middle eight').tempo).toEqual([])
  })

  it('links, frees and relinks: what a repeat replaces, and what is its own', async () => {
    await mark('Chorus 2').click()
    await panel('Chorus 2').getByText('repeats Chorus 1, bars 57 to 72').waitFor()
    await panel().getByRole('button', { name: 'Rings linked' }).click()
    await soon(() => section('Chorus 2').sameAs?.freed).toEqual(['rings'])
    await panel().getByRole('button', { name: 'Rings free here' }).click()
    await type('Trim', '60')
    await panel().getByRole('combobox', { name: 'Ember becomes' }).selectOption({ label: 'Plum' })
    await soon(() => section('Chorus 2').sameAs).toEqual({
      section: 'chorus1',
      swatches: { ember: 'plum', peach: 'rose' },
      trim: 0.6,
      freed: [],
    })
    await panel().getByRole('button', { name: 'Unlink' }).click()
    await soon(() => section('Chorus 2').sameAs).toBeUndefined()
    await panel().getByRole('combobox', { name: 'Repeats' }).selectOption({ label: 'Verse 1' })
    await soon(() => section('Chorus 2').sameAs?.section).toBe('verse1')
  })

  it('gives way to a chosen cue, which says where else it is played and can be changed only here', async () => {
    await mark('Chorus 2').click()
    const line = page.locator('.line', { has: mark('Chorus 2') })
    if (!(await line.getAttribute('class'))!.includes('open')) await line.locator('.gutter').click()
    const cue = line.locator('td.cue', { hasText: 'Carry the one, Tubes' }).first()
    await cue.scrollIntoViewIfNeeded()
    const box = (await cue.boundingBox())!
    await page.mouse.click(box.x + 120, box.y + 7)
    const cuePanel = page.getByRole('region', { name: 'Cue: Carry the one' })
    await cuePanel.getByText('Also in Chorus 1 and Last chorus').waitFor()
    expect(await panel().count()).toBe(0)
    expect(await mark('Chorus 2').getAttribute('aria-pressed')).toBe('false')
    await cuePanel.getByRole('button', { name: 'Only here, in Chorus 2' }).click()
    await page.getByText('Also in', { exact: false }).waitFor({ state: 'detached' })
    await soon(() => section('Chorus 2').sameAs?.freed).toEqual(['tubes'])
    const level = page
      .getByRole('region', { name: /^Cue: / })
      .getByRole('spinbutton', { name: 'Level', exact: true })
    await level.press('ArrowDown')
    await soon(() =>
      Object.values(section('Chorus 2').cues).some(own => !('look' in own.light) && own.light.level === 0.99),
    ).toBe(true)
    expect(section('Chorus 1').cues).toEqual(section('Chorus 1', songIn(atFirst)).cues)
  })
})

describe('sections by keys alone', () => {
  it('are chosen, moved, renamed, added, repeated and deleted, with the keyboard back on a mark each time', async () => {
    await page.keyboard.press('Home')
    await page.keyboard.press('s')
    await soon(focused).toBe('Section Intro')
    await page.keyboard.press('ArrowDown')
    await soon(focused).toBe('Section Verse 1')
    await page.keyboard.press('Alt+ArrowDown')
    await soon(() => names().slice(0, 3)).toEqual(['Intro', 'Chorus 1', 'Verse 1'])
    await soon(focused).toBe('Section Verse 1')
    await page.keyboard.press('F2')
    await soon(focused).toBe('Name of Verse 1')
    await page.keyboard.type('Opening verse')
    await page.keyboard.press('Enter')
    await soon(focused).toBe('Section Opening verse')
    await page.keyboard.press('Shift+F2')
    await soon(focused).toBe('Note on Opening verse')
    await page.keyboard.press('End')
    await page.keyboard.type(' Twice.')
    await page.keyboard.press('Enter')
    await soon(() => section('Opening verse').note).toBe('Sing it like a phone number. Twice.')
    await page.keyboard.press('Control+Enter')
    await soon(focused).toMatch(/^Name of Section 9$/)
    await page.keyboard.type('Tag')
    await page.keyboard.press('Enter')
    await soon(focused).toBe('Section Tag')
    await soon(() => names().slice(0, 4)).toEqual(['Intro', 'Chorus 1', 'Opening verse', 'Tag'])
    await page.keyboard.press('Control+Shift+D')
    await soon(() => Object.values(songIn(file()).sections).filter(one => one.name === 'Tag').length).toBe(2)
    await page.keyboard.press('Delete')
    await soon(() => names().filter(name => name === 'Tag')).toEqual(['Tag'])
    await soon(focused).toMatch(/^Section Verse 2/)
    await page.keyboard.press('Enter')
    await soon(focused).toBe('Rehearsal mark')
    await page.keyboard.press('Escape')
    await soon(focused).toBe('Section Verse 2')
  })

  it('are copied and brought onto another', async () => {
    await page.keyboard.press('Home')
    await page.keyboard.press('s')
    await page.keyboard.press('Control+c')
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Control+v')
    await page.getByRole('dialog', { name: 'Intro onto Verse 1' }).waitFor()
    await page.getByText('Intro is shorter: it is not stretched, bars 9 to 16 stay as before.').waitFor()
    await page.getByRole('button', { name: 'Lay over' }).press('Enter')
    await soon(() => Object.values(section('Verse 1').cues).some(cue => cue.name === 'Porch by porch')).toBe(
      true,
    )
    await soon(focused).toBe('Section Verse 1')
  })
})

describe('pencil notes', () => {
  it('can be read for every section, and are written on where they stand', async () => {
    const song = songIn(file())
    for (const { name, note } of Object.values(song.sections)) {
      const pencil = page.getByRole('button', { name: `Note on ${name}: ${note}` })
      await pencil.scrollIntoViewIfNeeded()
      // Descenders may hang out of the box; a line that is cut off would be 17 px.
      const hidden = await pencil.evaluate(e => e.scrollHeight - e.clientHeight)
      expect(hidden).toBeLessThan(8)
    }
    await page.getByRole('button', { name: /^Note on Verse 2/ }).click()
    await page.getByRole('textbox', { name: 'Note on Verse 2' }).fill('Bass early.')
    await page.keyboard.press('Enter')
    await soon(() => section('Verse 2').note).toBe('Bass early.')
    await page.getByRole('button', { name: 'Note on Verse 2: Bass early.' }).waitFor()
  })
})

it('meets no error on the page meanwhile', () => {
  expect(faults).toEqual([])
})
