// Looks and swatches in a real browser: named, placed, renamed and replaced by mouse and by keys; the server has the same.
// Part of parts.test.ts, which serves it.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { picture } from '../support/picture.ts'
import { offered as offeredOn, saved, undone, writing } from './writing.ts'

let page: Page

async function serversShow(): Promise<Show> {
  await saved(page)
  return writing.serversShow()
}
const offered = (says: RegExp) => offeredOn(page, says)
const undo = (...next: RegExp[]) => undone(page, ...next)
function cuesOf(show: Show): Map<string, Cue> {
  const song = show.songs[show.songOrder[0]!]!
  return new Map(Object.values(song.sections).flatMap(section => Object.entries(section.cues)))
}
const lookNamed = (show: Show, name: string) => Object.entries(show.looks).find(([, l]) => l.name === name)!

export function looksAndSwatches(): void {
  beforeAll(async () => {
    page = await writing.open()
    await page.getByRole('table', { name: 'Parts and their cues' }).first().waitFor()
  })
  afterAll(() => page?.close())

  describe('a look', () => {
    it('dragged onto the chart is one linked cue a part, until the next look or the section’s end; one undo takes it back', async () => {
      const before = await serversShow()
      const tile = page.getByRole('button', { name: 'Black water', exact: true })
      const [id, look] = lookNamed(before, 'Black water')
      const line = page.locator('.line.open .notes').first()
      const numbers = await page.locator('.line.open .bar-number').count()
      const { width } = (await line.boundingBox())!
      await tile.dragTo(line, { targetPosition: { x: (4 * width) / numbers + 3, y: 22 } })
      await offered(/^Undo: Place Black water/)
      const after = await serversShow()
      const fresh = [...cuesOf(after)].filter(([cue]) => !cuesOf(before).has(cue)).map(([, cue]) => cue)
      expect(fresh.map(cue => cue.light)).toEqual(Object.keys(look.parts).map(() => ({ look: id })))
      // The look before it ends where it begins, and it lasts until the next one, four bars on.
      expect(new Set(fresh.map(cue => `${cue.at} ${cue.length}`))).toEqual(new Set(['15360 15360']))
      await page.getByRole('button', { name: 'Black water', exact: true }).first().waitFor()
      await picture(page, 'look-placed')
      await undo(/^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
      await page.keyboard.press('Escape')
    })

    it('is chosen by its name over the line, and renamed there for all its places', async () => {
      const before = await serversShow()
      const name = page.locator('button.look', { hasText: 'It all adds up' }).first()
      const [id, { parts }] = lookNamed(before, 'It all adds up')
      await name.click()
      await page.getByRole('region', { name: `Cue: ${Object.keys(parts).length} cues` }).waitFor()
      await name.press('F2')
      await page.getByRole('textbox', { name: 'Name of the look' }).fill('Sums')
      await page.keyboard.press('Enter')
      await offered(/^Undo: Rename the look/)
      expect((await serversShow()).looks[id]!.name).toBe('Sums')
      expect(await page.locator('button.look', { hasText: 'Sums' }).count()).toBeGreaterThan(1)
      await undo(/^Nothing to undo/)
      await page.keyboard.press('Escape')
    })

    it('is made of the stage and placed by keys alone, and follows it when it is changed', async () => {
      const before = await serversShow()
      await page.locator('body').press('Home')
      for (let section = 0; section < 2; section++) await page.keyboard.press(']')
      await page.getByText('25.1', { exact: true }).first().waitFor()
      await page.keyboard.press('n')
      await page.getByRole('textbox', { name: 'Name of the look' }).waitFor()
      await picture(page, 'look-naming')
      await page.keyboard.type('Kitchen window')
      await page.keyboard.press('Enter')
      await offered(/^Undo: Add the look Kitchen window/)
      const [id, look] = lookNamed(await serversShow(), 'Kitchen window')
      const [, source] = lookNamed(before, 'It all adds up')
      expect(look.parts).toEqual(source.parts)

      await page.locator('body').press(']')
      await page.getByText('41.1', { exact: true }).first().waitFor()
      const place = page.getByRole('button', { name: 'Place at playhead' })
      await place.focus()
      await place.press('Enter')
      await offered(/^Undo: Place Kitchen window/)
      const placed = [...cuesOf(await serversShow()).values()].filter(
        cue => 'look' in cue.light && cue.light.look === id,
      )
      expect(placed).toHaveLength(Object.keys(look.parts).length)
      expect(new Set(placed.map(cue => cue.at))).toEqual(new Set([0]))
      await undo(/^Undo: Add the look/, /^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
      await page.keyboard.press('Escape')
    })

    it('taken from chosen cues has them follow it', async () => {
      const before = await serversShow()
      await page.locator('td.cue', { hasText: 'Stop' }).first().locator('.plate').click({ force: true })
      await page.getByRole('region', { name: /^Cue: / }).waitFor()
      await page.locator('.line.open .notes').first().press('n')
      await page.keyboard.type('Full stop')
      await page.keyboard.press('Enter')
      await offered(/^Undo: Add the look Full stop/)
      const after = await serversShow()
      const [id, look] = lookNamed(after, 'Full stop')
      const linked = [...cuesOf(after)].filter(([, cue]) => 'look' in cue.light && cue.light.look === id)
      expect(linked).toHaveLength(1)
      expect(Object.values(look.parts)).toEqual([cuesOf(before).get(linked[0]![0])!.light])
      await undo(/^Nothing to undo/)
      await page.keyboard.press('Escape')
    })
  })

  describe('a swatch', () => {
    it('changes every light that has it, and leaves its place to another when it is deleted', async () => {
      const before = await serversShow()
      const [id] = Object.entries(before.swatches).find(([, s]) => s.name === 'Cream')!
      const well = page.getByLabel('Colour of Cream')
      await well.fill('#ffe0b0')
      await offered(/^Undo: Swatch Cream/)
      expect((await serversShow()).swatches[id]!.hex).toBe('#ffe0b0')
      await page.getByRole('button', { name: 'Delete Cream' }).click()
      await page.getByRole('combobox', { name: 'Its place is taken by' }).selectOption({ label: 'Brass' })
      await offered(/^Undo: Delete the swatch Cream/)
      const text = canonicalText(await serversShow())
      expect(text).not.toContain(`"swatch": "${id}"`)
      expect(text).not.toContain('#ffe0b0')
      await undo(/^Undo: Swatch Cream/, /^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
    })

    it('is made of a colour of one’s own, in one step with the cue that takes it', async () => {
      const before = await serversShow()
      await page.locator('td.cue', { hasText: 'Stop' }).first().locator('.plate').click({ force: true })
      await page.getByRole('button', { name: 'Only here', exact: true }).click()
      await page.getByRole('button', { name: 'Make a swatch of this colour' }).click()
      await page.getByRole('textbox', { name: 'Name of the swatch' }).fill('Candle end')
      await page.keyboard.press('Enter')
      await offered(/^Undo: Add the swatch Candle end/)
      const after = await serversShow()
      const [id] = Object.entries(after.swatches).find(([, s]) => s.name === 'Candle end')!
      expect([...cuesOf(after).values()].filter(cue => JSON.stringify(cue).includes(id))).toHaveLength(1)
      await undo(/^Undo: Colour of/, /^Nothing to undo/)
      expect(canonicalText(await serversShow())).toBe(canonicalText(before))
      expect(writing.faults).toEqual([])
    })
  })
}
