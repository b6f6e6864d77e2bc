// Sections by keys alone and their pencil notes, in a real browser and on disk.
// Part of sections.test.ts, whose page it has.

import { describe, expect, it } from 'vitest'

import { file, focused, names, page, section, songIn, soon } from './section-desk.ts'

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
    const field = page.getByRole('textbox', { name: 'Note on Verse 2' })
    // A press in it is the text's, and not the chart's under it.
    const at = await page.getByLabel('Position').textContent()
    await field.click()
    expect(await page.getByLabel('Position').textContent()).toBe(at)
    await page.getByRole('button', { name: 'Loop this section' }).waitFor()
    await field.fill('Bass early.')
    await page.keyboard.press('Enter')
    await soon(() => section('Verse 2').note).toBe('Bass early.')
    await page.getByRole('button', { name: 'Note on Verse 2: Bass early.' }).waitFor()
  })
})
