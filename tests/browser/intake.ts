// A MIDI file taken in on the page: looked at, made a song with its music and cues, heard by the server; damaged files
// are refused in words beside the control. Part of edit.test.ts, which serves it.

import { scoreNotes } from '@glowchart/shared/score/notes.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { smfFromSong } from '@glowchart/shared/smf/export.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { demoSongs, format1 } from '../smf/files.ts'
import { picture } from '../support/picture.ts'
import { offered, saved, songCalled, writing } from './writing.ts'

let page: Page

const choose = (name: string, bytes: Uint8Array) =>
  page.locator('.file-well input').setInputFiles({ name, mimeType: 'audio/midi', buffer: Buffer.from(bytes) })

export function midiFiles(): void {
  beforeAll(async () => {
    page = await writing.open()
  })
  afterAll(() => page?.close())

  it('shows its sections, tempo and tracks, and becomes a song with cues and music in one step', async () => {
    const before = await writing.serversShow()
    await page.getByRole('button', { name: 'From a MIDI file' }).click()
    await choose('Small Piece.mid', format1)
    await page.getByText('120 BPM, 4/4').waitFor()
    expect(await page.getByRole('textbox', { name: 'Title' }).inputValue()).toBe('Small Piece')
    const tracks = page.getByRole('list', { name: 'Note tracks' }).getByRole('listitem')
    expect(await tracks.count()).toBe(3)
    await page.getByLabel('Cues from Track 4').selectOption({ index: 2 })
    await picture(page, 'intake-midi')
    await page.getByRole('button', { name: 'Take it in' }).click()
    await offered(page, /^Undo: Take in "Small Piece"/)
    await saved(page)
    const song = songCalled(await writing.serversShow(), 'Small Piece')
    const cues = Object.values(song.sections).flatMap(section => Object.values(section.cues))
    expect(cues.map(({ at, length }) => [at, length])).toEqual([
      [0, 3840],
      [0, 3840],
    ])
    expect(Object.values(song.tracks).map(track => track.part)).toEqual([before.partOrder[1]])
    expect(scoreNotes(song, timelineOf(song))).toHaveLength(4)
    await page.getByRole('button', { name: /^Undo: / }).click()
    await offered(page, /^Nothing to undo/)
    await saved(page)
    expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
  })

  it('that a song was written to gives its sections, meters and tempo back', async () => {
    const written = demoSongs[2]!
    await page.getByRole('button', { name: 'From a MIDI file' }).click()
    await choose('Again.mid', smfFromSong(written))
    await page.getByRole('button', { name: 'Take it in' }).click()
    await saved(page)
    const song = songCalled(await writing.serversShow(), 'Again')
    const names = ({ sectionOrder, sections }: typeof song) =>
      sectionOrder.map(id => [sections[id]!.name, sections[id]!.bars])
    expect(names(song)).toEqual(names(written))
    expect(timelineOf(song).length).toBe(timelineOf(written).length)
    await page.getByRole('button', { name: /^Undo: / }).click()
    await saved(page)
  })

  it.each([
    ['cut short', format1.subarray(0, 60), /smaller|Copy the file again/],
    ['empty', new Uint8Array(0), /Choose a Standard MIDI File/],
    [
      'no MIDI file at all',
      new TextEncoder().encode('just some words in a file'),
      /Choose a Standard MIDI File/,
    ],
  ])('%s is refused in words, with what to do, and nothing changes', async (_, bytes, remedy) => {
    const before = await writing.serversShow()
    await page.getByRole('button', { name: 'From a MIDI file' }).click()
    await choose('Broken.mid', bytes)
    const said = page.locator('.intake .fault')
    await said.filter({ hasText: remedy }).waitFor()
    expect(await said.textContent()).toMatch(/^Broken\.mid/)
    await page.getByRole('button', { name: 'Take it in' }).click({ force: true })
    await page.getByRole('button', { name: 'Not now' }).click()
    expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
  })

  it('meets no error on the page meanwhile', () => {
    expect(writing.faults).toEqual([])
  })
}
