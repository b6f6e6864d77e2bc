// The page against axe-core, in a real browser: no violation of WCAG 2.2 A or AA, nor of axe's best practices.

import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults } from 'axe-core'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

let served: Served
let browser: Browser
let page: Page
let rival: PageSocket

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  page = await opened(1440, 900)
  rival = await openPage(served.url, 'test-rival')
})
afterAll(async () => {
  rival?.close()
  await browser?.close()
  await served?.close()
})

async function opened(width: number, height: number): Promise<Page> {
  const fresh = await browser.newPage({ viewport: { width, height }, reducedMotion: 'reduce' })
  fresh.setDefaultTimeout(20_000)
  await fresh.goto(served.url)
  await fresh.getByText(/^(No advice|Advice, \d+ marks?)$/).waitFor()
  // Not as a script of the page: its policy lets none in but its own.
  await fresh.evaluate(axe)
  return fresh
}

/** What axe finds, a line each, with the elements it means. */
async function violations(on: Page = page): Promise<string[]> {
  // Of what passes, an element each will do: to name them all takes most of its time.
  const { violations, passes } = (await on.evaluate(
    'axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], resultTypes: ["violations"] })',
  )) as AxeResults
  // It has looked at the page, not at nothing.
  expect(passes.length).toBeGreaterThan(10)
  return violations.map(
    ({ id, impact, help, nodes }) =>
      `${id} (${impact}): ${help}\n${nodes.map(n => `  ${n.target.join(' ')}: ${n.failureSummary ?? ''}`).join('\n')}`,
  )
}

describe('axe finds nothing', { timeout: 60_000 }, () => {
  it('on the chart with nothing chosen', async () => {
    expect(await violations()).toEqual([])
  })

  it('with a cue chosen and its panel at the side', async () => {
    await page.keyboard.press('ArrowRight')
    await page.getByRole('region', { name: /^Cue: / }).waitFor()
    expect(await violations()).toEqual([])
    await page.keyboard.press('Escape')
  })

  it('with the output panel open', async () => {
    await page.getByRole('button', { name: /Output off/ }).click()
    await page.getByRole('region', { name: 'Output' }).waitFor()
    expect(await violations()).toEqual([])
    await page.getByRole('button', { name: /Output off/ }).click()
  })

  it('with the list of keys open', async () => {
    await page.keyboard.press('?')
    await page.getByRole('dialog', { name: 'Keys' }).waitFor()
    expect(await violations()).toEqual([])
    await page.keyboard.press('Escape')
  })

  it('with a section chosen', async () => {
    await page
      .getByRole('button', { name: /^Section / })
      .first()
      .click()
    expect(await violations()).toEqual([])
    await page.keyboard.press('Escape')
  })

  it('with advice in the margin, and all of it listed', async () => {
    const { show } = rival.hello
    const song = show.songOrder[0]!
    const { tracks, sectionOrder } = show.songs[song]!
    const light = {
      level: 1,
      colours: { along: 'none', colour: { hex: '#ffffff' } },
      motion: { kind: 'strobe', rate: { ticks: 160 }, spread: 0 },
    }
    const cues = Object.fromEntries(
      Object.keys(tracks).map((track, i) => [`cue-flash${i}`, { track, at: 7680, length: 7680, light }]),
    )
    for (const section of sectionOrder.slice(0, 3)) {
      const args = { song, section, cues: { [`cue-${section}`]: Object.values(cues)[0], ...cues } }
      expect(await rival.ask({ type: 'edit', edit: 'addCues', args })).toMatchObject({ type: 'done' })
      for (const id of Object.keys(cues)) {
        cues[`${id}x`] = cues[id]!
        delete cues[id]
      }
    }
    await page.getByRole('button', { name: /^Advice, \d+ marks$/ }).click()
    await page.getByRole('region', { name: 'Advice', exact: true }).waitFor()
    expect(await violations()).toEqual([])
  })

  it('on an empty song', async () => {
    const args = {
      song: 'song-empty',
      title: 'Nothing Yet',
      bpm: 120,
      meter: { beats: 4, unit: 4 },
      section: 'section-empty',
      sectionName: 'Verse',
      bars: 8,
    }
    expect(await rival.ask({ type: 'edit', edit: 'addSong', args })).toMatchObject({ type: 'done' })
    await page.getByRole('button', { name: 'Done' }).click()
    await page.getByRole('button', { name: /Nothing Yet/ }).click()
    await page.getByRole('heading', { level: 1, name: 'Nothing Yet' }).waitFor()
    await expect.poll(() => page.getByRole('article').count()).toBe(1)
    expect(await violations()).toEqual([])
  })

  it('on the rig: a socket opened, the patch with a guest, and another kit looked at', async () => {
    const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click()
    await page.getByRole('link', { name: 'Rig' }).click()
    await page.getByRole('heading', { name: /^Rig for tonight/ }).waitFor()
    await press(/^Box A, socket 1: /)
    await page.getByRole('group', { name: 'Plays in' }).waitFor()
    expect(await violations()).toEqual([])
    await press('Patch sheet')
    await press(/^Add a guest/)
    await page.getByRole('spinbutton', { name: /^Address of/ }).waitFor()
    expect(await violations()).toEqual([])
    await press('Kits')
    await press('Look before you play on it')
    await page
      .getByRole('img', { name: /^The stage of/ })
      .first()
      .waitFor()
    expect(await violations()).toEqual([])
  })

  it('on the set list, and on the run page with a song that plays, with more of its hands, and with a look', async () => {
    await page.getByRole('link', { name: 'Set list' }).click()
    await page.getByRole('list', { name: 'Songs of the set' }).waitFor()
    expect(await violations()).toEqual([])
    await page.getByRole('link', { name: 'Run' }).click()
    await page.getByRole('button', { name: /^Next: Start / }).waitFor()
    await page.keyboard.press('PageDown')
    await page.getByRole('button', { name: /^Next: Play .* once more/ }).waitFor()
    expect(await violations()).toEqual([])
    await page.keyboard.press('m')
    await page.getByRole('region', { name: 'More' }).waitFor()
    expect(await violations()).toEqual([])
    await rival.ask({ type: 'transport', transport: { do: 'look', look: 'smallMoon', place: 2 } })
    await page.getByText('stands between songs').waitFor()
    expect(await violations()).toEqual([])
  })

  it('before doors: every check, and the log of the night', async () => {
    await page.goto(`${served.url}/#preflight`)
    await page.getByText('The patch', { exact: true }).waitFor()
    expect(await violations()).toEqual([])
    await page.getByRole('button', { name: 'Log of the night' }).click()
    await page.getByText('Glowchart starts.').waitFor()
    expect(await violations()).toEqual([])
  })

  it('on a phone', async () => {
    const phone = await opened(390, 844)
    expect(await violations(phone)).toEqual([])
    await phone.close()
  })
})
