// A recording played in time with the engine: steered by its speed, begun anew only when it is far off, heard on the beat.

import { clicksIn } from '@glowchart/shared/score/clicks.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { steer } from '@glowchart/web/recording/player.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { within } from '../bench/figures.ts'
import { openBrowser } from '../support/browser.ts'
import { clicksAgainstFrames } from '../support/clicks.ts'
import { type Ear, earAt } from '../support/ear.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'
import { waveFile } from './wave-file.ts'

describe('what keeps a recording in time', () => {
  const running = { at: 10, place: 4, rate: 1 }

  it('leaves it alone where it should be', () => {
    expect(steer(running, { at: 12, place: 6, rate: 1 })).toBe(1)
  })

  it('runs a little faster or slower for a small error, never by more than is heard', () => {
    expect(steer(running, { at: 12, place: 6.003, rate: 1 })).toBeCloseTo(1.003, 9)
    expect(steer(running, { at: 12, place: 5.985, rate: 1 })).toBeCloseTo(0.996, 9)
    expect(steer(running, { at: 12, place: 6.003, rate: 1.1 })).toBeGreaterThan(1.1)
  })

  it('begins anew when it is far off', () => {
    expect(steer(running, { at: 12, place: 6.5, rate: 1 })).toBe('anew')
    expect(steer(running, { at: 12, place: 5.9, rate: 1 })).toBe('anew')
  })
})

const RATE = 44_100
const START = 0.75
let served: Served
let browser: Browser
let page: Page
let ear: Ear
let beat = 0
let song: ReturnType<typeof timelineOf>

/** A recording of the song's beats, one short tone each, that begins `START` s before its first bar. */
function beats(): Buffer {
  const samples = new Float32Array(30 * RATE)
  for (let at = START; at < 29; at += beat) {
    for (let i = 0; i < 1500; i++) {
      samples[Math.round(at * RATE) + i] =
        0.7 * Math.exp(-i / 400) * Math.cos((i * 2 * Math.PI * 1200) / RATE)
    }
  }
  return waveFile(samples, RATE)
}

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  const socket = await openPage(served.url, 'test-recorder')
  const { show } = socket.hello
  const id = show.songOrder[0]!
  song = timelineOf(show.songs[id]!)
  beat = 60 / show.songs[id]!.bpm
  const sent = await fetch(`${served.url}/api/audio?name=beats.wav`, {
    method: 'POST',
    body: new Uint8Array(beats()),
  })
  const { file } = (await sent.json()) as { file: string }
  const audio = { file, name: 'beats.wav', seconds: 30, start: START, level: 1 }
  expect(await socket.ask({ type: 'edit', edit: 'setAudio', args: { song: id, audio } })).toMatchObject({
    type: 'done',
  })
  socket.close()
  const context = await browser.newContext({ bypassCSP: true, viewport: { width: 1440, height: 900 } })
  page = await context.newPage()
  ear = await earAt(page)
  await page.goto(served.url)
  await page.locator('canvas.wave').first().waitFor()
  await page.getByRole('button', { name: /^Sound/ }).click()
  await page.getByRole('dialog', { name: 'Sound' }).getByRole('checkbox', { name: 'Score' }).setChecked(false)
  await page.keyboard.press('Escape')
})
afterAll(async () => {
  await browser?.close()
  await served?.close()
})

const button = (name: string) => page.getByRole('button', { name, exact: true })
/** Waits until the position shown is in a bar (1-based) that fits. */
const until = (from: number, before: number) =>
  page.waitForFunction(
    ([from, before]) => {
      const bar = Number.parseInt(
        document.querySelector('output[aria-label="Position"]')?.textContent ?? '',
        10,
      )
      return bar >= from! && bar < before!
    },
    [from, before],
  )
/** Clicks of bars [from, to), 0-based, against the frames heard since. */
async function heard(from: number, to: number, since: number) {
  const wanted = clicksIn(song.meters, ticks(from * 3840), ticks(to * 3840)).map(click => click.at)
  const onsets = (await ear.onsets()).filter(at => at > since)
  const frames = (await ear.frames()).filter(frame => frame.due > since)
  return clicksAgainstFrames(wanted, onsets, frames, song.tempo)
}

describe('a recording on the page', () => {
  it('is heard on the beats of the song, and again after the song was moved; silent once it stands', async () => {
    await page.keyboard.press('Home')
    await button('Play').click()
    await until(6, 99)
    // A place in the middle of it, while it plays.
    const moved = await page.evaluate(() => performance.now())
    await page.keyboard.press('Home')
    await until(1, 3)
    await until(5, 99)
    await button('Stop').click()
    const stopped = await page.evaluate(() => performance.now())
    const first = await heard(2, 5, 0)
    const second = await heard(1, 4, moved + 200)
    for (const { beat, missed } of [first, second]) {
      expect(missed).toBeLessThanOrEqual(1)
      expect(beat.length).toBeGreaterThanOrEqual(11)
      expect(within(beat.map(Math.abs), 0.5)).toBeLessThan(5)
      // A busy machine stamps a moment wrongly now and then; the recording itself is held within 20 ms.
      expect(within(beat.map(Math.abs), 0.9)).toBeLessThan(25)
    }
    await page.waitForFunction(from => performance.now() > from + 1500, stopped)
    expect(Math.max(0, ...(await ear.loudness()).filter(l => l.at > stopped + 300).map(l => l.rms))).toBe(0)
  })
})
