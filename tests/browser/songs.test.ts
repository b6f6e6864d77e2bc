// The list of songs in a real browser: a song from a typed line with a first draft of its light, renamed, copied, moved,
// deleted, with the mouse and with the keys; every gesture is one step back.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Page } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { picture } from '../support/picture.ts'
import { byKeyboardAlone } from './keyboard.ts'
import { offered, onOneDemo, saved, songCalled, titlesOf, writing } from './writing.ts'

const LINE = 'Intro 8, Verse 16, Chorus 16, Verse, Chorus, Bridge 8, Solo 8, Chorus, Outro 16'
let page: Page

onOneDemo()
describe('by keyboard alone', { timeout: 120_000 }, byKeyboardAlone)

const song = (title: string) => page.getByRole('list', { name: 'Songs' }).getByRole('button', { name: title })
const undoAll = async () => {
  await page.getByRole('button', { name: 'History' }).click()
  await page.getByRole('button', { name: 'As this page was opened' }).click()
  await page.keyboard.press('Escape')
  await offered(page, /^Nothing to undo/)
  await saved(page)
}

/** What a four-minute song from nothing must have: its length, its links, light on every section and part. */
async function expectWritten(): Promise<void> {
  const show = await writing.serversShow()
  const value = songCalled(show, 'Paper Kites')
  const timeline = timelineOf(value)
  expect(Math.round(secondsAt(timeline.tempo, timeline.length))).toBe(240)
  expect(value.sectionOrder.filter(id => value.sections[id]!.sameAs)).toHaveLength(3)
  const lit = new Set<string>()
  for (const { source } of timeline.sections) {
    const cues = Object.values(value.sections[source]!.cues)
    expect(cues.length).toBeGreaterThan(0)
    for (const cue of cues) lit.add(value.tracks[cue.track]!.part)
  }
  expect([...lit].sort()).toEqual([...show.partOrder].sort())
}

describe('songs', () => {
  beforeAll(async () => {
    page = await writing.open()
  })

  describe('a song from nothing', () => {
    it('is written with the mouse in 5 gestures; two steps back restore the show', async () => {
      const before = await writing.serversShow()
      let gestures = 0
      const counted = async (gesture: Promise<unknown>) => {
        gestures++
        await gesture
      }
      await counted(page.getByRole('button', { name: 'New song' }).click())
      await counted(page.getByRole('textbox', { name: 'Title' }).fill('Paper Kites'))
      await counted(page.getByLabel('Sections and their bars').fill(LINE))
      await picture(page, 'songs-new')
      await counted(page.getByRole('button', { name: 'Add the song' }).click())
      await offered(page, /^Undo: Rough in "Paper Kites"/)
      await counted(page.getByRole('button', { name: 'Keep it' }).click())
      await saved(page)
      await expectWritten()
      console.log(`a 4-minute song from nothing, with rough-in: ${gestures} gestures`)
      expect(gestures).toBeLessThan(15)
      await picture(page, 'songs-written')
      for (const next of [/^Undo: Add "Paper Kites"/, /^Nothing to undo/]) {
        await page.getByRole('button', { name: /^Undo: / }).click()
        await offered(page, next)
      }
      await saved(page)
      expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
    })

    it('is written with the keys alone', async () => {
      await page.getByRole('button', { name: 'New song' }).focus()
      await page.keyboard.press('Enter')
      await page.keyboard.type('Paper Kites')
      for (let i = 0; i < 3; i++) await page.keyboard.press('Tab')
      await page.keyboard.type(LINE)
      await page.keyboard.press('Enter')
      await offered(page, /^Undo: Rough in/)
      await page.keyboard.press('Escape')
      await saved(page)
      await expectWritten()
      await undoAll()
    })

    it('says what is wrong with the line beside it, and adds nothing', async () => {
      const before = await writing.serversShow()
      await page.getByRole('button', { name: 'New song' }).click()
      await page.getByLabel('Sections and their bars').fill('Intro 8, Verse')
      await page.getByText('section 2, "Verse": "Verse" does not say how many bars it has.').waitFor()
      await page.getByRole('button', { name: 'Add the song' }).click()
      await page.getByRole('button', { name: 'Not now' }).click()
      expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
    })
  })

  describe('a draft', () => {
    it('is tried again in its own place: one step back takes the last of them away', async () => {
      await page.getByRole('button', { name: 'New song' }).click()
      await page.getByLabel('Sections and their bars').fill('Intro 4, Verse 8, Chorus 8')
      await page.getByRole('button', { name: 'Add the song' }).click()
      await offered(page, /^Undo: Rough in/)
      await saved(page)
      const first = songCalled(await writing.serversShow(), 'Untitled')
      await page.getByRole('button', { name: 'Another draft' }).click()
      await page.getByLabel('Mood of Verse').selectOption('broken')
      await saved(page)
      const second = songCalled(await writing.serversShow(), 'Untitled')
      expect(canonicalText(second)).not.toBe(canonicalText(first))
      await page.keyboard.press('Escape')
      await page.getByRole('button', { name: /^Undo: Rough in/ }).click()
      await offered(page, /^Undo: Add "Untitled"/)
      await saved(page)
      const bare = songCalled(await writing.serversShow(), 'Untitled')
      expect(Object.values(bare.sections).flatMap(section => Object.keys(section.cues))).toEqual([])
    })

    it('leaves sections with cues alone, unless they are ticked', async () => {
      await page.keyboard.press('Home')
      await page.locator('body').press('a')
      await saved(page)
      await page.keyboard.press('Escape')
      await page.getByRole('button', { name: 'Rough in', exact: true }).click()
      await page.getByRole('button', { name: 'Write a draft' }).click()
      await offered(page, /^Undo: Rough in/)
      await saved(page)
      const kept = songCalled(await writing.serversShow(), 'Untitled')
      const counts = () => kept.sectionOrder.map(id => Object.keys(kept.sections[id]!.cues).length)
      expect(counts()[0]).toBe(1)
      expect(counts()[1]).toBeGreaterThan(1)
      await page.getByRole('button', { name: 'Take it back' }).click()
      await page.getByRole('checkbox', { name: /has cues/ }).check()
      await page.getByRole('button', { name: 'Write a draft' }).click()
      await offered(page, /^Undo: Rough in/)
      await saved(page)
      const over = songCalled(await writing.serversShow(), 'Untitled')
      const own = Object.keys(kept.sections[kept.sectionOrder[0]!]!.cues)[0]!
      expect(Object.keys(over.sections[over.sectionOrder[0]!]!.cues)).not.toContain(own)
      expect(Object.keys(over.sections[over.sectionOrder[0]!]!.cues).length).toBeGreaterThan(0)
      await page.getByRole('button', { name: 'Keep it' }).click()
      await undoAll()
    })
  })

  describe('the list', () => {
    it('renames, copies, moves and deletes, each a step back', async () => {
      const before = await writing.serversShow()
      const [first, second] = titlesOf(before) as [string, string]
      await song(first).click()
      await page.getByRole('textbox', { name: 'Title' }).fill('Lantern Weather')
      await page.keyboard.press('Enter')
      await offered(page, /^Undo: Rename/)
      await page.getByRole('textbox', { name: 'Tempo' }).fill('96.5')
      await page.keyboard.press('Enter')
      await page.getByRole('textbox', { name: 'Meter' }).fill('6/8')
      await page.keyboard.press('Enter')
      await saved(page)
      const changed = songCalled(await writing.serversShow(), 'Lantern Weather')
      expect(changed).toMatchObject({ bpm: 96.5, meter: { beats: 6, unit: 8 } })
      await page.getByRole('button', { name: 'Duplicate' }).click()
      await page.getByRole('heading', { name: 'Lantern Weather (copy)', level: 1 }).waitFor()
      await page.getByRole('button', { name: 'Later' }).click()
      await saved(page)
      expect(titlesOf(await writing.serversShow()).slice(0, 3)).toEqual([
        'Lantern Weather',
        second,
        'Lantern Weather (copy)',
      ])
      await song('Lantern Weather (copy)').press('Alt+ArrowUp')
      await song('Lantern Weather (copy)').press('Alt+ArrowUp')
      await saved(page)
      expect(titlesOf(await writing.serversShow())[0]).toBe('Lantern Weather (copy)')
      await song('Lantern Weather (copy)').dragTo(song(titlesOf(before).at(-1)!), {
        targetPosition: { x: 60, y: 40 },
      })
      await saved(page)
      expect(titlesOf(await writing.serversShow()).at(-1)).toBe('Lantern Weather (copy)')
      await page.getByRole('button', { name: 'Delete', exact: true }).click()
      await song('Lantern Weather (copy)').waitFor({ state: 'detached' })
      await undoAll()
      expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
    })

    it('refuses a tempo and a meter that no song has: the fields say so, nothing changes', async () => {
      const before = await writing.serversShow()
      for (const [label, text] of [
        ['Tempo', '900'],
        ['Meter', '4/5'],
      ] as const) {
        const field = page.locator('.song-card').getByLabel(label)
        await field.fill(text)
        expect(await field.getAttribute('aria-invalid')).toBe('true')
        await field.press('Enter')
        await field.press('Escape')
      }
      expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
    })

    it('writes the song as a MIDI file that reads back as it is', async () => {
      const { readSmf } = await import('@glowchart/shared/smf/read.ts')
      const { buffer } = await import('node:stream/consumers')
      const show = await writing.serversShow()
      const title = titlesOf(show)[2]!
      await song(title).click()
      const downloading = page.waitForEvent('download')
      await page.getByRole('button', { name: 'Write MIDI file' }).click()
      const download = await downloading
      expect(download.suggestedFilename()).toBe(`${title}.mid`)
      const smf = readSmf(new Uint8Array(await buffer(await download.createReadStream())), title)
      const value = songCalled(show, title)
      expect(smf.markers.map(marker => marker.text)).toEqual(
        value.sectionOrder.map(id => value.sections[id]!.name),
      )
      expect(smf.length).toBe(timelineOf(value).length)
    })

    it('meets no error on the page meanwhile', () => {
      expect(writing.faults).toEqual([])
    })
  })
})
