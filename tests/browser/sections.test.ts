// Sections with bars put in, dragged and shaped in their column, in a real browser and on disk.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { describe, expect, it } from 'vitest'
import { picture } from '../support/picture.ts'
import './section-keys.ts'
import {
  atFirst,
  BAR,
  centre,
  drag,
  expected,
  faults,
  file,
  focused,
  mark,
  names,
  onTheDemo,
  page,
  panel,
  played,
  saved,
  section,
  songIn,
  soon,
  type,
  undoAll,
} from './section-desk.ts'

onTheDemo()

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
    await picture(page, 'sections-inserted')

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
    await picture(page, 'sections-moving')
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
    await picture(page, 'sections-landing')
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

it('meets no error on the page meanwhile', () => {
  expect(faults).toEqual([])
})
