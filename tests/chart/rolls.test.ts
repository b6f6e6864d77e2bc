// Which light rolls an edit draws again: the lines whose light it changes, and no others; a draft leaves no trace.

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { cuePlaces, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { createEasel } from '@glowchart/web/chart/roll/easel.ts'
import type { FromRollWorker, RollShape, ToRollWorker } from '@glowchart/web/chart/roll/request.ts'
import { type RollWorker, startRolls } from '@glowchart/web/chart/roll/rolls.ts'
import { describe, expect, it } from 'vitest'
import { LONG, longShow } from '../support/long-show.ts'

const LINES = 12
const BAR = 3840
const LINE = 4 * BAR

/** A picture as far as the rolls know it, and what is on it. */
type Picture = ImageBitmap & { line: number; pixels: string; closed: boolean }

/** The page's rolls with the real easel behind them, on this thread; `drawn` are the lines it drew, in turn. */
function rollsOnThisThread() {
  const easel = createEasel()
  const drawn: number[] = []
  const answer = (message: ToRollWorker): FromRollWorker | null => {
    if (message.type !== 'draw') {
      easel.take(message)
      return null
    }
    const { contents, drawn: done } = easel.draw(message)
    if (!done) return { type: 'drawn', contents, drawn: null }
    const { width, height, data } = done.pixels
    const line = Math.round(message.wanted[done.index]!.shape.edges[0]! / LINE)
    drawn.push(line)
    const picture = { width, height, line, pixels: Buffer.from(data).toString('base64'), closed: false }
    const close = () => {
      ;(picture as { closed: boolean }).closed = true
    }
    const made = Object.assign(picture, { close }) as Picture
    return { type: 'drawn', contents, drawn: { index: done.index, picture: made } }
  }
  const worker: RollWorker = {
    onmessage: null,
    terminate() {},
    postMessage(message: ToRollWorker) {
      // Through a clone, as between threads.
      const from = answer(structuredClone(message))
      if (from) setImmediate(() => worker.onmessage?.call(worker as Worker, { data: from } as MessageEvent))
    },
  }
  const rolls = startRolls(worker)
  const shown = new Map<number, Picture>()
  const shapeOf = (line: number): RollShape => ({
    edges: [0, 1, 2, 3, 4].map(bar => line * LINE + bar * BAR),
    barWidth: 16,
    rows: [{ y: 0, height: 24, strands: [0, 4, 8].map(firstCell => ({ firstCell, cells: 1 })) }],
    height: 24,
    pad: 4,
    bloom: 3,
    scale: 1,
  })
  const wish = (line: number) =>
    rolls.wish(
      shapeOf(line),
      () => line,
      picture => shown.set(line, picture as Picture),
    )
  return {
    rolls,
    drawn,
    shown,
    shapeOf,
    wish,
    /** Resolves once nothing is left to draw for the lines that wish. */
    async settled() {
      for (let quiet = 0; quiet < 3; ) {
        await new Promise(resolve => setImmediate(resolve))
        quiet = rolls.waiting() === 0 ? quiet + 1 : 0
      }
    },
  }
}

const start = (): Documents => longShow({ sections: LINES, cues: LINES * 24, fixtures: 12 })
const move = (documents: Documents, section: string, cue: string, by = 60): Documents =>
  applyEdit(documents, 'moveCues', { song: LONG.song, cues: [{ section, cue }], by }).next

async function onThePage(documents: Documents) {
  const page = rollsOnThisThread()
  page.rolls.setSong(documents.rig, documents.show, LONG.song)
  for (let line = 0; line < LINES; line++) page.wish(line)
  await page.settled()
  return page
}

describe('light rolls', () => {
  it('are drawn nearest first, each once, when the song comes onto the page', async () => {
    const page = await onThePage(start())
    expect(page.drawn).toEqual(Array.from({ length: LINES }, (_, i) => i))
    expect(new Set([...page.shown.values()].map(picture => picture.pixels)).size).toBe(LINES)
    page.rolls.close()
  })

  it('are drawn again only on the lines on which an edit changes the light', async () => {
    const documents = start()
    const page = await onThePage(documents)
    const song = documents.show.songs[LONG.song]!
    for (const place of cuePlaces(song, timelineOf(song)).filter((_, i) => i % 71 === 0)) {
      const before = new Map(page.shown)
      page.drawn.length = 0
      const edited = move(documents, place.section, place.id)
      page.rolls.setSong(edited.rig, edited.show, LONG.song)
      await page.settled()
      // The cue itself, before and after, and a frame on either side; cues that it crossfades with lie near.
      const first = Math.floor((place.at - LINE / 4) / LINE)
      const last = Math.floor((place.at + place.length + LINE / 4) / LINE)
      expect(page.drawn.length).toBeGreaterThan(0)
      for (const line of page.drawn) expect(line).toSatisfy((l: number) => l >= first && l <= last)
      // What was not drawn again is as a page would draw it that has never seen the song before.
      const afresh = await onThePage(edited)
      for (let line = 0; line < LINES; line++) {
        expect(page.shown.get(line)!.pixels === afresh.shown.get(line)!.pixels, `line ${line}`).toBe(true)
        if (!page.drawn.includes(line)) expect(page.shown.get(line) === before.get(line)).toBe(true)
      }
      afresh.rolls.close()
      page.rolls.setSong(documents.rig, documents.show, LONG.song)
      await page.settled()
    }
    page.rolls.close()
  })

  it('follow a swatch wherever it is used, and stay where it is not', async () => {
    const documents = start()
    const page = await onThePage(documents)
    page.drawn.length = 0
    const edited = applyEdit(documents, 'setSwatch', { swatch: 'w0', hex: '#102030' }).next
    page.rolls.setSong(edited.rig, edited.show, LONG.song)
    await page.settled()
    const afresh = await onThePage(edited)
    for (let line = 0; line < LINES; line++) {
      expect(page.shown.get(line)!.pixels === afresh.shown.get(line)!.pixels).toBe(true)
    }
    expect(page.drawn.length).toBeGreaterThan(0)
    page.rolls.close()
    afresh.rolls.close()
  })

  it('show a draft while it is dragged, and are the very pictures from before when it is dropped', async () => {
    const documents = start()
    const page = await onThePage(documents)
    const before = new Map(page.shown)
    page.drawn.length = 0
    // As fast as a pointer moves: several within one turn, of which the last counts.
    for (const by of [60, 120, 240, 480]) page.rolls.preview(move(documents, 's3', 'c81', by).show)
    await page.settled()
    expect(page.drawn).toEqual([3])
    const afresh = await onThePage(move(documents, 's3', 'c81', 480))
    expect(page.shown.get(3)!.pixels === afresh.shown.get(3)!.pixels).toBe(true)
    expect(page.shown.get(3)!.pixels === before.get(3)!.pixels).toBe(false)
    page.drawn.length = 0
    page.rolls.preview(null)
    await page.settled()
    expect(page.drawn).toEqual([])
    for (const [line, picture] of before) expect(page.shown.get(line) === picture, `line ${line}`).toBe(true)
    expect([...before.values()].some(picture => picture.closed)).toBe(false)
    page.rolls.close()
    afresh.rolls.close()
  })

  it('keep the pictures of a draft that becomes an edit, and of an edit taken back', async () => {
    const documents = start()
    const page = await onThePage(documents)
    const edited = move(documents, 's3', 'c81')
    page.rolls.preview(edited.show)
    await page.settled()
    page.drawn.length = 0
    page.rolls.setSong(edited.rig, edited.show, LONG.song)
    await page.settled()
    page.rolls.setSong(documents.rig, documents.show, LONG.song)
    await page.settled()
    expect(page.drawn).toEqual([])
    page.rolls.close()
  })

  it('keep their pictures on lines that only move along the song', async () => {
    const documents = start()
    const page = rollsOnThisThread()
    page.rolls.setSong(documents.rig, documents.show, LONG.song)
    const withdraw = [page.wish(7)]
    await page.settled()
    const before = page.shown.get(7)!
    page.drawn.length = 0
    const edited = applyEdit(documents, 'insertBars', {
      song: LONG.song,
      section: 's2',
      bar: 0,
      count: 4,
    }).next
    // As the page does it, which lays out its lines before it tells of the song.
    for (const one of withdraw) one()
    page.wish(8)
    page.rolls.setSong(edited.rig, edited.show, LONG.song)
    await page.settled()
    expect(page.drawn).toEqual([])
    expect(page.shown.get(8) === before).toBe(true)
    page.rolls.close()
  })

  it('out of sight are drawn when nothing else is to do, and are there when they come into sight', async () => {
    const documents = start()
    const page = rollsOnThisThread()
    page.rolls.setSong(documents.rig, documents.show, LONG.song)
    page.wish(0)
    page.rolls.setPage(() => [0, 1, 2].map(page.shapeOf))
    await expect.poll(() => page.drawn, { timeout: 30_000 }).toEqual([0, 1, 2])
    await page.settled()
    page.wish(2)
    // At once, not after a turn.
    expect(page.shown.get(2)).toBeDefined()
    page.rolls.close()
  })
})
