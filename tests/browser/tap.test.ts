// Tapping in, in a real browser: taps stand where the engine's song was when the key went down, hits and held taps
// become cues on the grid, in one step, or nothing at all.

import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { picture } from '../support/picture.ts'
import { offered, saved, startWriting, type Writing } from './writing.ts'

const BEAT = 960
/** Ms: half of the fastest round trip, by which the page may be wrong about the engine's clock on a busy machine. */
const CLOSE = 60
/** Ms between taps: that error is the same for all of them. */
const EVEN = 15
let writing: Writing
let page: Page
let engine: PageSocket

interface Stamps {
  stamps: { down: number; up: number }[]
}

beforeAll(async () => {
  writing = await startWriting()
  engine = await openPage(writing.served.url, 'test-engine')
  page = await writing.open(async fresh => {
    // When each T went down and up, in ms since 1970, as the browser stamps the events.
    await fresh.addInitScript(() => {
      const kept: { down: number; up: number }[] = []
      Object.assign(window, { stamps: kept })
      const epoch = (event: KeyboardEvent) => performance.timeOrigin + event.timeStamp
      window.addEventListener(
        'keydown',
        event => event.key === 't' && kept.push({ down: epoch(event), up: 0 }),
        true,
      )
      window.addEventListener(
        'keyup',
        event => {
          if (event.key === 't') kept.at(-1)!.up = epoch(event)
        },
        true,
      )
    })
  })
})
afterAll(async () => {
  engine?.close()
  await writing?.close()
})

const moves = (status: EngineStatus) => status.playing && status.starts === null
const cuesOf = (show: Show): Map<string, Cue> =>
  new Map(
    Object.values(show.songs[show.songOrder[0]!]!.sections).flatMap(section => Object.entries(section.cues)),
  )
const added = (before: Show, after: Show): Cue[] => {
  const had = cuesOf(before)
  return [...cuesOf(after)].flatMap(([id, cue]) => (had.has(id) ? [] : [cue])).sort((a, b) => a.at - b.at)
}
const flags = () =>
  page.locator('.tap-flag').evaluateAll(all => all.map(flag => Number((flag as HTMLElement).dataset.at)))

/** Begins to tap in at the song's start, and waits until it moves. */
async function begin(): Promise<void> {
  await page.keyboard.press('Home')
  await engine.status(status => !status.playing && status.position === 0)
  await page.keyboard.press('r')
  await page.getByRole('region', { name: 'Tap in' }).waitFor()
  await engine.status(moves)
}

async function tap(ms: number): Promise<void> {
  await page.keyboard.down('t')
  await page.waitForTimeout(ms)
  await page.keyboard.up('t')
}

async function stop(): Promise<void> {
  await page.keyboard.press('Space')
  await engine.status(status => !status.playing)
  // The page hears of it a moment later than we do.
  await page.getByRole('button', { name: 'Play', exact: true }).waitFor()
}

describe('tapping in', () => {
  it('stands where the song was as the key went down, hits and holds, and is one step', async () => {
    const before = await writing.serversShow()
    await begin()
    for (const ms of [0, 700, 0]) {
      await tap(ms)
      await page.waitForTimeout(500)
    }
    const now = await engine.status(moves)
    // The engine's clock is this machine's monotonic one, as Node reads it.
    const toEngine = Number(process.hrtime.bigint()) / 1e6 - (performance.timeOrigin + performance.now())
    await picture(page, 'tap-flags')
    const raw = await flags()
    await stop()
    const { stamps } = (await page.evaluate(() => ({
      stamps: (window as unknown as Stamps).stamps,
    }))) as Stamps
    expect(raw).toHaveLength(3)
    const perMs = (now.bpm * BEAT) / 60_000
    const off = raw.map(
      (at, i) => (at - (now.position + (stamps[i]!.down + toEngine - now.at) * perMs)) / perMs,
    )
    console.log(`taps off the engine's song: ${off.map(ms => ms.toFixed(1)).join(', ')} ms`)
    for (const ms of off) expect(Math.abs(ms)).toBeLessThan(CLOSE)
    expect(Math.max(...off) - Math.min(...off)).toBeLessThan(EVEN)
    // Nothing is written, nor rounded, before it is kept.
    expect(raw.every(at => at % BEAT === 0)).toBe(false)
    expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))

    await page.keyboard.press('Enter')
    await offered(page, /^Undo: Tap in 3 cues/)
    await saved(page)
    const cues = added(before, await writing.serversShow())
    expect(cues.map(cue => cue.at)).toEqual(raw.map(at => Math.round(at / BEAT) * BEAT))
    // A busy machine may hold the browser's key down for longer than a hit lasts.
    const hits = stamps.map(({ down, up }) => up - down < 200)
    expect(hits[1]).toBe(false)
    expect(cues.map(cue => cue.fadeOut?.length ?? 0)).toEqual(hits.map(hit => (hit ? BEAT : 0)))
    const held = stamps[1]!.up - stamps[1]!.down
    const end = Math.round((raw[1]! + held * perMs) / BEAT) * BEAT
    expect(Math.abs(cues[1]!.at + cues[1]!.length - end)).toBeLessThanOrEqual(BEAT)
    await page.getByRole('button', { name: /^Undo: / }).click()
    await offered(page, /^Nothing to undo/)
    await saved(page)
    expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
  })

  it('drops a whole look by number keys and the pad, or drops everything at Escape', async () => {
    const before = await writing.serversShow()
    await begin()
    await page.keyboard.press('2')
    await page.getByRole('button', { name: 'Tap here' }).click({ delay: 40 })
    await expect.poll(flags).toHaveLength(2)
    await page.keyboard.press('Escape')
    await expect.poll(flags).toHaveLength(0)
    await page.getByRole('region', { name: 'Tap in' }).waitFor({ state: 'detached' })
    await stop()
    expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))

    const [look, { parts }] = Object.entries(before.looks)[0]!
    await begin()
    await page.getByRole('region', { name: 'Tap in' }).getByLabel('On').selectOption(`look ${look}`)
    await tap(50)
    await page.keyboard.press('Enter')
    await offered(page, /^Undo: Tap in a cue/)
    await stop()
    await saved(page)
    const cues = added(before, await writing.serversShow())
    expect(cues.map(cue => cue.light)).toEqual(Object.keys(parts).map(() => ({ look })))
    await page.getByRole('button', { name: /^Undo: / }).click()
    await saved(page)
    expect(canonicalText(await writing.serversShow())).toBe(canonicalText(before))
  })

  it('takes nothing while the song stands still', async () => {
    await begin()
    await stop()
    await page.keyboard.press('t')
    expect(await flags()).toEqual([])
    await page.keyboard.press('Escape')
  })

  it('meets no error on the page meanwhile', () => {
    expect(writing.faults).toEqual([])
  })
})
