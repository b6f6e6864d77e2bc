// Begins with a recording in a real browser: from a show without songs, by file or by drop, and with one press more.
// Part of page.test.ts, which serves it.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { saved, writing } from '../browser/writing.ts'
import { openPage } from '../support/page-socket.ts'
import { clicks, waveFile } from './wave-file.ts'

const wav = waveFile(clicks([0.5, 1, 1.5, 2, 2.5, 3], 4), 44_100)
let page: Page

async function show(): Promise<Show> {
  await saved(page)
  return writing.serversShow()
}

export function beginnings(): void {
  beforeAll(async () => {
    const socket = await openPage(writing.served.url, 'test-emptier')
    for (const song of socket.hello.show.songOrder) {
      expect(await socket.ask({ type: 'edit', edit: 'deleteSong', args: { song } })).toMatchObject({
        type: 'done',
      })
    }
    socket.close()
    page = await writing.browser.newPage({ viewport: { width: 1440, height: 900 } })
    await page.goto(writing.served.url)
  })
  afterAll(() => page?.close())

  it('an empty chart offers three ways to begin; a recording makes a song of its name', async () => {
    const empty = page.getByRole('region', { name: 'Chart' })
    await empty.getByText('A song begins with its sections.').waitFor()
    expect(await empty.getByRole('button').allTextContents()).toEqual([
      'Type its sections',
      'Take in a MIDI file',
      'Start from a recording',
    ])
    await empty
      .locator('input[type=file]')
      .setInputFiles({ name: 'Attic, take 3.wav', mimeType: 'audio/wav', buffer: wav })
    await page.locator('canvas.wave').first().waitFor()
    const { songs, songOrder } = await show()
    expect(songOrder).toHaveLength(1)
    expect(songs[songOrder[0]!]).toMatchObject({
      title: 'Attic, take 3',
      audio: { name: 'Attic, take 3.wav', seconds: 4 },
    })
  })

  it('a file dropped on the chart takes the place of the recording; taking back brings the first again', async () => {
    await page.locator('#chart').evaluate(
      (chart, bytes) => {
        const files = new DataTransfer()
        files.items.add(new File([new Uint8Array(bytes)], 'take 4.wav', { type: 'audio/wav' }))
        for (const type of ['dragover', 'drop']) {
          chart.dispatchEvent(new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: files }))
        }
      },
      [...waveFile(clicks([0.25, 0.5], 3), 44_100)],
    )
    await page.getByText('take 4.wav, ').waitFor()
    const name = async () => {
      const { songs, songOrder } = await show()
      return songs[songOrder[0]!]!.audio?.name
    }
    expect(await name()).toBe('take 4.wav')
    await page.keyboard.press('Control+z')
    await page.getByText('Attic, take 3.wav, ').waitFor()
    expect(await name()).toBe('Attic, take 3.wav')
  })
}
