// Writing on the chart in a real browser, with the mouse and with the keys: what the page shows is what the server has.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import type { Page, WebSocketRoute } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { picture } from '../support/picture.ts'
import { cuePanel } from './cue-panel.ts'
import { midiFiles } from './intake.ts'
import { offered as offeredOn, onOneDemo, saved as savedOn, writing } from './writing.ts'

const BEAT = 960
const BAR = 4 * BEAT
let page: Page

onOneDemo()

async function open(height = 900, prepare?: (page: Page) => Promise<void>): Promise<Page> {
  const opened = await writing.open(prepare, { viewport: { width: 1440, height } })
  await opened.getByRole('table', { name: 'Parts and their cues' }).first().waitFor()
  return opened
}

const serversShow = (): Promise<Show> => writing.serversShow()
const saved = (on = page) => savedOn(on)
const offered = (says: RegExp, on = page) => offeredOn(on, says)

/** Every cue of the song on the page, by id. */
function cuesOf(show: Show): Map<string, Cue> {
  const song = show.songs[show.songOrder[0]!]!
  return new Map(Object.values(song.sections).flatMap(section => Object.entries(section.cues)))
}

function added(before: Show, after: Show): Cue {
  const had = cuesOf(before)
  const fresh = [...cuesOf(after)].filter(([id]) => !had.has(id))
  expect(fresh).toHaveLength(1)
  return fresh[0]![1]
}

async function unfold(on: Page): Promise<void> {
  const folded = on.locator('.gutter[aria-expanded="false"]')
  while ((await folded.count()) > 0) await folded.first().click()
}

/** An empty stretch of two bars on a row of an open line, and how wide a bar is there, px. */
async function emptyRow(): Promise<{ x: number; y: number; bar: number }> {
  await unfold(page)
  const found = await page.evaluate(() => {
    for (const line of document.querySelectorAll('.line.open')) {
      const notes = line.querySelector('.notes')!.getBoundingClientRect()
      const numbers = [...line.querySelectorAll('.bar-number')]
      const bar = notes.width / numbers.length
      for (const row of line.querySelectorAll('tr')) {
        const name = row.querySelector('th')!.getBoundingClientRect()
        const cues = [...row.querySelectorAll('td')].map(cue => cue.getBoundingClientRect())
        for (let i = 1; i + 4 < numbers.length; i++) {
          const x = notes.left + i * bar
          if (cues.every(cue => cue.right < x - 1 || cue.left > x + 4 * bar)) {
            const chart = document.querySelector('.chart')!
            const before = chart.scrollTop
            line.scrollIntoView({ block: 'center' })
            return { x, y: name.top + name.height / 2 - (chart.scrollTop - before), bar }
          }
        }
      }
    }
    return null
  })
  if (!found) throw new Error('no open line of the demo has four empty bars on a row')
  return found
}

async function drag(from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> {
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2)
  await page.mouse.move(to.x, to.y)
}

describe('writing on the chart', () => {
  beforeAll(async () => {
    page = await open()
  })
  afterAll(() => page?.close())

  it('draws, moves and stretches a cue with the mouse; three undos restore the show of the server', async () => {
    const before = await serversShow()
    const { x, y, bar } = await emptyRow()
    await drag({ x: x + 2, y }, { x: x + 2 * bar - 3, y })
    await page.locator('.nib.drafted').getByText('2 bars').waitFor()
    await picture(page, 'edit-drawing')
    await page.mouse.up()
    await offered(/^Undo: Add a cue/)
    await saved()
    const drawnShow = await serversShow()
    const drawn = added(before, drawnShow)
    expect(drawn.length).toBe(2 * BAR)

    await drag({ x: x + bar, y }, { x: x + 2 * bar + 3, y })
    await picture(page, 'edit-moving')
    await page.mouse.up()
    await offered(/^Undo: Move/)
    await saved()
    const moved = added(before, await serversShow())
    expect(moved).toEqual({ ...drawn, at: drawn.at + BAR })

    await drag({ x: x + 3 * bar - 2, y }, { x: x + 2 * bar - 2, y })
    await page.mouse.up()
    await offered(/^Undo: Length/)
    await saved()
    const shorter = added(before, await serversShow())
    expect(shorter).toEqual({ ...moved, length: BAR })
    await picture(page, 'edit-chosen')

    for (const next of [/^Undo: Move/, /^Undo: Add a cue/, /^Nothing to undo/]) {
      await page.getByRole('button', { name: /^Undo: / }).click()
      await offered(next)
    }
    await saved()
    expect(canonicalText(await serversShow())).toBe(canonicalText(before))
  })

  it('does the same with keys alone, and does it again after taking it back', async () => {
    const before = await serversShow()
    await page.locator('body').press('Home')
    await page.keyboard.press('a')
    await offered(/^Undo: Add a cue/)
    await saved()
    const fresh = added(before, await serversShow())
    expect(fresh.length).toBe(BAR)
    await page.keyboard.press('Alt+ArrowRight')
    await offered(/^Undo: Move/)
    await page.keyboard.press('Alt+Shift+ArrowLeft')
    await offered(/^Undo: Length/)
    await saved()
    const written = await serversShow()
    expect(added(before, written)).toEqual({ ...fresh, at: fresh.at + BEAT, length: BAR - BEAT })

    for (const next of [/^Undo: Move/, /^Undo: Add a cue/, /^Nothing to undo/]) {
      await page.keyboard.press('Control+z')
      await offered(next)
    }
    await saved()
    expect(canonicalText(await serversShow())).toBe(canonicalText(before))
    for (const next of [/^Redo: Move/, /^Redo: Length/, /^Nothing to redo/]) {
      await page.keyboard.press('Control+Shift+z')
      await offered(next)
    }
    await saved()
    expect(canonicalText(await serversShow())).toBe(canonicalText(written))
  })

  it('fades by the corner of the bracket, copies with Alt and changes the part with Shift', async () => {
    const before = await serversShow()
    const { x, y, bar } = await emptyRow()
    await drag({ x: x + 2, y }, { x: x + bar, y })
    await page.mouse.up()
    await saved()
    const fresh = added(before, await serversShow())
    const plate = await page.locator('.cue.chosen').first().boundingBox()
    const top = plate!.y - 2

    await drag({ x: x + 4, y: top }, { x: x + 4 + bar / 2, y: top })
    await page.locator('.nib.drafted').getByText('fade in 2 beats').waitFor()
    await page.mouse.up()
    await offered(/^Undo: Fades/)
    await saved()
    const faded = added(before, await serversShow())
    expect(faded).toEqual({ ...fresh, fadeIn: { length: 2 * BEAT, curve: 'even', cut: 0 } })
    await picture(page, 'edit-faded')

    await page.keyboard.down('Alt')
    await drag({ x: x + 0.6 * bar, y }, { x: x + 1.6 * bar, y })
    await page.mouse.up()
    await page.keyboard.up('Alt')
    await offered(/^Undo: Copy/)
    await saved()
    const cues = [...cuesOf(await serversShow())].filter(([id]) => !cuesOf(before).has(id))
    expect(cues.map(([, cue]) => cue.at).sort((a, b) => a - b)).toEqual([faded.at, faded.at + BAR])

    await page.keyboard.down('Shift')
    await page.mouse.click(x + 0.6 * bar, y)
    await page.keyboard.up('Shift')
    await page.getByText('2 cues', { exact: true }).first().waitFor()
    await picture(page, 'edit-several')

    const below = y + plate!.height * 2 + 4
    await page.keyboard.down('Shift')
    await drag({ x: x + 0.6 * bar, y }, { x: x + 0.8 * bar, y: below })
    await page.mouse.up()
    await page.keyboard.up('Shift')
    await offered(/^Undo: Move 2 cues/)
    await saved()
    const later = await serversShow()
    const { tracks } = later.songs[later.songOrder[0]!]!
    const moved = [...cuesOf(later)].filter(([id]) => !cuesOf(before).has(id))
    expect(new Set(moved.map(([, cue]) => tracks[cue.track]!.part)).size).toBe(1)
    expect(tracks[moved[0]![1].track]!.part).not.toBe(tracks[fresh.track]!.part)
    expect(moved.map(([, cue]) => cue.at).sort((a, b) => a - b)).toEqual([faded.at, faded.at + BAR])
    await page.keyboard.press('Delete')
    await offered(/^Undo: Delete 2 cues/)
    await saved()
    expect(canonicalText(await serversShow())).toBe(canonicalText(before))
  })

  it('keeps what is written while the connection is down, and takes back what was written before', async () => {
    const before = await serversShow()
    const sockets = new Set<WebSocketRoute>()
    let down = false
    const lonely = await open(900, async fresh => {
      await fresh.routeWebSocket(/\/live/, socket => {
        if (down) return void socket.close()
        socket.connectToServer()
        sockets.add(socket)
      })
    })
    await lonely.keyboard.press('a')
    await offered(/^Undo: Add a cue/, lonely)
    await saved(lonely)
    down = true
    for (const socket of sockets) await socket.close()
    await lonely.getByText('Not connected', { exact: true }).waitFor()
    await lonely.keyboard.press('Alt+ArrowRight')
    await lonely.getByText('Not saved, waiting', { exact: true }).waitFor()
    down = false
    await saved(lonely)
    const fresh = added(before, await serversShow())
    expect(fresh.at).toBe(BEAT)
    await lonely.keyboard.press('Control+z')
    await offered(/^Undo: Add a cue/, lonely)
    await lonely.keyboard.press('Control+z')
    await offered(/^Nothing to undo/, lonely)
    await saved(lonely)
    expect(canonicalText(await serversShow())).toBe(canonicalText(before))
    await lonely.close()
  })

  it('drops a drag on Escape, and changes nothing', async () => {
    const before = await serversShow()
    const { x, y, bar } = await emptyRow()
    await drag({ x: x + 2, y }, { x: x + 2 * bar, y })
    await page.locator('.nib.drafted').waitFor()
    await page.keyboard.press('Escape')
    await page.locator('.nib.drafted').waitFor({ state: 'detached' })
    await page.mouse.up()
    await saved()
    expect(canonicalText(await serversShow())).toBe(canonicalText(before))
  })

  it('shows an edit of one page on another, which cannot take it back', async () => {
    // High enough for every line, so that all cues are counted.
    const other = await open(4000)
    await unfold(other)
    const { x, y, bar } = await emptyRow()
    const count = () => other.getByRole('table', { name: 'Parts and their cues' }).getByRole('cell').count()
    const had = await count()
    await drag({ x: x + 2, y }, { x: x + 2 * bar, y })
    await page.mouse.up()
    await saved()
    await expect.poll(() => count()).toBeGreaterThan(had)
    await offered(/^Nothing to undo/, other)
    await page.keyboard.press('Delete')
    await expect.poll(() => count()).toBe(had)
    await other.close()
  })
})

it('meets no error on the page meanwhile', () => {
  expect(writing.faults).toEqual([])
})

describe('the cue column', cuePanel)
describe('a MIDI file', midiFiles)
