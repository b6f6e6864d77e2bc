// Advice on the chart in a real browser: it comes by itself after an edit, leads to the cues behind it, and goes with them.

import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

let served: Served
let browser: Browser
let page: Page
let rival: PageSocket
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.on('pageerror', error => faults.push(String(error)))
  page.on('console', message => message.type() === 'error' && faults.push(message.text()))
  page.setDefaultTimeout(20_000)
  await page.goto(served.url)
  rival = await openPage(served.url, 'test-rival')
  const { show } = rival.hello
  const sockets = Object.values(show.kits[show.tonight]!.boxes).flatMap(box => Object.values(box.sockets))
  fixture = sockets[0]!.fixture
})
afterAll(async () => {
  rival?.close()
  await browser?.close()
  await served?.close()
})

/** Strobes white on all of a section's first five parts, in bars 3 to 5 of it: over both limits at any tempo. */
async function strobe(section: string): Promise<void> {
  const { show } = rival.hello
  const song = show.songOrder[0]!
  const { tracks } = show.songs[song]!
  const byPart = new Map(Object.entries(tracks).map(([id, track]) => [track.part, id]))
  const cues = Object.fromEntries(
    [...byPart.values()].map((track, i) => [
      `cue-flash${i}`,
      {
        track,
        at: 2 * 3840,
        length: 2 * 3840,
        light: {
          level: 1,
          colours: { along: 'none', colour: { hex: '#ffffff' } },
          motion: { kind: 'strobe', rate: { ticks: 160 }, spread: 0 },
        },
      },
    ]),
  )
  const answer = await rival.ask({ type: 'edit', edit: 'addCues', args: { song, section, cues } })
  expect(answer).toMatchObject({ type: 'done' })
}

/** A fixture that stands tonight. */
let fixture: string

const mark = (name: RegExp) => page.getByRole('button', { name })

describe('advice on the chart', { timeout: 60_000 }, () => {
  it('has none on the demo', async () => {
    await page.getByText('No advice', { exact: true }).waitFor()
  })

  it('marks the line where an edit makes the stage flash, with bars, rate and limit', async () => {
    // An open line says it in words, a folded one with a number.
    const first = page.locator('.line[aria-label$=", from bar 1"]')
    if (!(await first.evaluate(line => line.classList.contains('open'))))
      await first.locator('.gutter').click()
    const { show } = rival.hello
    await strobe(show.songs[show.songOrder[0]!]!.sectionOrder[0]!)
    const found = mark(/^Advice: *Bars? [\d–]+ +[\d.]+ flashes\/s, limit 3 +Must not be played so$/)
    await found.waitFor()
    await page.getByRole('button', { name: /^Advice, \d+ marks?$/ }).waitFor()
    // It is said once to those who do not see it, and only because it must not be played so.
    await expect.poll(() => page.locator('p[aria-live]').textContent()).toMatch(/^Must not be played so: /)
  })

  it('opens the line by keyboard, chooses the cues behind it, and says at the side what to do', async () => {
    const found = mark(/^Advice: *Bars? /)
    await found.focus()
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: /^Cue: / }).waitFor()
    const line = page.getByRole('article', { name: /from bar 1$/ })
    expect(await line.getByRole('button', { expanded: true }).count()).toBe(1)
    expect(await page.locator('.cue.chosen').count()).toBeGreaterThan(1)
    const words = page.getByRole('region', { name: 'Advice', exact: true })
    expect(await words.textContent()).toMatch(
      /the whole stage, up to .* flashes a second.*flash in 1\/\d+ notes or slower/,
    )
    expect(await words.textContent()).toContain('WCAG 2.2 SC 2.3.1')
    expect(await words.textContent()).toContain(
      'Flashing light can harm people with photosensitive epilepsy.',
    )
    expect(await words.textContent()).toContain('Glowchart advises; it certifies nothing.')
    await page.keyboard.press('Escape')
    await words.waitFor({ state: 'detached' })
  })

  it('lists all of it, also what stands tonight and has no bars', async () => {
    const opened = { fixture, at: '2031-05-04T10:00:00Z', what: 'no blue' }
    expect(await rival.ask({ type: 'edit', edit: 'openFault', args: opened })).toMatchObject({ type: 'done' })
    await page.getByRole('button', { name: /^Advice, \d+ marks?$/ }).click()
    const list = page.getByRole('region', { name: 'Advice', exact: true })
    await list.waitFor()
    const fault = list
      .getByRole('listitem')
      .filter({ hasText: 'with a fault open since 2031-05-04: no blue' })
    await fault.waitFor()
    expect(await fault.textContent()).toMatch(/^Tonight.*Repair /)
    // What must not be played so stands first.
    expect(await list.getByRole('listitem').first().textContent()).toContain('must not be played so')
  })

  it('goes by one press of a remedy, and comes back when that is taken back, by keyboard alone', async () => {
    const list = page.getByRole('region', { name: 'Advice', exact: true })
    await list.getByRole('button', { name: /^Arm tonight’s strobe limit at 3 flashes\/s/ }).focus()
    await page.keyboard.press('Enter')
    await list.getByText(/do not flash tonight \(at most 3 flashes a second\).*steady at the mean/).waitFor()
    expect(await list.getByText('must not be played so').count()).toBe(0)
    // The button that was pressed is gone; the one that takes it back has the focus.
    await page.keyboard.press('Enter')
    await list.getByText('must not be played so').waitFor()
    const slower = list.getByRole('button', { name: /^Slow 5 cues to 1\/\d notes/ })
    await slower.focus()
    await page.keyboard.press('Enter')
    await list.getByText('must not be played so').waitFor({ state: 'detached' })
    expect(await list.getByText(/Done: Slow 5 cues/).count()).toBe(1)
    await page.keyboard.press('Enter')
    await list.getByText('must not be played so').waitFor()
  })

  it('is counted on the row of the set list, which leads to it', async () => {
    await page.goto(`${served.url}#setlist`)
    await page
      .getByRole('button', {
        name: /^2 ?2 marks of advice on “.*Must not be played so|^1 ?1 mark of advice on “.*Must not/,
      })
      .click()
    await page
      .getByRole('region', { name: 'Advice', exact: true })
      .getByText('must not be played so')
      .waitFor()
  })

  it('goes when the flashing goes', async () => {
    await page.getByRole('button', { name: 'Done' }).click()
    const closed = { fixture, at: '2031-05-04T10:00:00Z' }
    expect(await rival.ask({ type: 'edit', edit: 'closeFault', args: closed })).toMatchObject({
      type: 'done',
    })
    const { show } = rival.hello
    const song = show.songOrder[0]!
    const section = show.songs[song]!.sectionOrder[0]!
    const cues = Array.from({ length: 5 }, (_, i) => ({ section, cue: `cue-flash${i}` }))
    expect(await rival.ask({ type: 'edit', edit: 'deleteCues', args: { song, cues } })).toMatchObject({
      type: 'done',
    })
    await page.getByText('No advice', { exact: true }).waitFor()
    expect(await page.locator('.advice-mark').count()).toBe(0)
    expect(faults).toEqual([])
  })
})
