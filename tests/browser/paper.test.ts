// Every sheet printed to PDF by a real browser, on A4 and on Letter: size, pages, text, nothing cut off, nothing too small.

import { mkdirSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { picture } from '../support/picture.ts'
import { type Served, serveDemo } from '../support/processes.ts'

/** Where the sheets are put, to be looked at. */
const printed = fileURLToPath(new URL('../out/paper', import.meta.url))

/** Points: A4 by ISO 216 (210 × 297 mm), Letter by ANSI/ASME Y14.1 (8.5 × 11 in). */
const sizes = { A4: [595.28, 841.89], Letter: [612, 792] } as const

/** Each entry of the list and what its PDF must say. */
const sheets: Readonly<Record<string, readonly string[]>> = {
  'Patch sheet': ['Box A', 'Tube 7', '46–48', '16 AWG', 'everything on'],
  'Stage plan': ['Stage right', 'Audience', '2.35 m', '7 ft 9 in', 'trip hazards'],
  Labels: ['Start address', '1, 4, 5 on', 'light end'],
  'Pack list': ['TU-007', 'DMX cables', 'Common practice, no source'],
  'For the house': ['outlets', 'from the mains', 'photosensitive epilepsy', 'WCAG 2.2', 'certifies nothing'],
  'Short set, a quarter of an hour': ['Slow Ferry, Small Moon', '6/8', 'harbour'],
  'Porchlight Arithmetic': ['It all adds up', 'every 2 bars', 'as C, Chorus 1', 'Thicker ink'],
  'Salt for the Piano': ['Salt air', '3/4'],
  'Seven Drawers Down': ['7/8'],
  'Slow Ferry, Small Moon': ['vamp till released'],
  Bulb: ['BU-004', '0.18 A', 'solder side'],
  'Letters OH': ['OH-003', '3.36 A'],
  'Ring, 60 cm': ['2.28 A'],
  'Tube, 1.2 m': ['24 whole segments', '1.44 A, 17 W'],
}

let served: Served
let page: Page
let close: () => Promise<void>
const faults: string[] = []

beforeAll(async () => {
  mkdirSync(printed, { recursive: true })
  const [demo, browser] = await Promise.all([serveDemo(), openBrowser()])
  served = demo
  close = async () => {
    await browser.close()
    await served.close()
  }
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(60_000)
  page.on('pageerror', error => faults.push(String(error)))
  await page.goto(`${served.url}/#paper`)
})
afterAll(() => close?.())

const list = () => page.getByRole('navigation', { name: 'Sheets' })
const ready = () => page.locator('.paper[data-ready=true]').waitFor()

async function choose(name: string): Promise<void> {
  await list().getByRole('button', { name, exact: true }).click()
  await ready()
}

/** The pages of a PDF: size in points, and text. */
async function read(pdf: Buffer): Promise<{ size: [number, number]; text: string }[]> {
  const loading = getDocument({ data: new Uint8Array(pdf), useSystemFonts: false, verbosity: 0 })
  const document = await loading.promise
  const pages: { size: [number, number]; text: string }[] = []
  for (let n = 1; n <= document.numPages; n++) {
    const one = await document.getPage(n)
    const [left, foot, right, top] = one.view as [number, number, number, number]
    const { items } = await one.getTextContent()
    const text = items.map(item => ('str' in item ? item.str : '')).join(' ')
    pages.push({ size: [right - left, top - foot], text: text.replace(/\s+/g, ' ') })
  }
  await loading.destroy()
  return pages
}

/** Light rolls in which nothing is drawn. */
const blankRolls = () =>
  page.evaluate(
    () =>
      [...document.querySelectorAll<HTMLCanvasElement>('.paper-page canvas')].filter(canvas => {
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height)
        return !data.some(value => value > 0)
      }).length,
  )

/** What reaches over its page or its neighbour, and text under 8 pt, as the printer lays it out. */
const faultsOfLayout = () =>
  page.evaluate(() => {
    const found: string[] = []
    for (const sheet of document.querySelectorAll('.paper-page')) {
      const edge = sheet.getBoundingClientRect()
      const foot = sheet.querySelector('.paper-foot')!.getBoundingClientRect()
      const name = sheet.getAttribute('aria-label')
      const blocks = [...sheet.querySelectorAll('.block')]
      if (blocks.length === 0) found.push(`${name}: nothing on it`)
      for (const block of blocks) {
        if (block.getBoundingClientRect().bottom > foot.top + 0.5) {
          found.push(`${name}: ${block.getAttribute('data-block')} reaches into the foot`)
        }
      }
      const walker = document.createTreeWalker(sheet, NodeFilter.SHOW_TEXT)
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const text = node.textContent!.trim()
        const holder = node.parentElement!
        if (text === '') continue
        const range = document.createRange()
        range.selectNodeContents(node)
        for (const area of range.getClientRects()) {
          if (
            area.left < edge.left - 0.5 ||
            area.right > edge.right + 0.5 ||
            area.bottom > edge.bottom + 0.5
          ) {
            found.push(`${name}: “${text}” lies off the page`)
          }
        }
        // 8 pt is 10.67 px.
        const size = Number.parseFloat(getComputedStyle(holder).fontSize)
        if (size < 10.66) found.push(`${name}: “${text}” is ${size} px`)
        const clipped = holder.closest('td, th, .ink-look, dd, h2, h3, .paper-foot')
        if (clipped && clipped.scrollWidth > clipped.clientWidth + 1 && clipped.clientWidth > 0) {
          found.push(`${name}: “${text}” is wider than its room`)
        }
      }
    }
    return found
  })

describe.each(Object.entries(sizes))('on %s', (name, points) => {
  it('the list has these sheets and no others', async () => {
    await page.getByRole('radio', { name }).check()
    await ready()
    const names = await list().getByRole('button').allTextContents()
    expect(names.filter(entry => !/^All \d+$/.test(entry))).toEqual(Object.keys(sheets))
  })

  it.each(Object.entries(sheets))(
    '%s is printed whole, at its size, with its words',
    async (title, words) => {
      await page.getByRole('radio', { name }).check()
      await choose(title)
      expect(await blankRolls()).toBe(0)
      await page.emulateMedia({ media: 'print' })
      expect(await faultsOfLayout()).toEqual([])
      const laid = await page.locator('.paper-page').count()
      const pdf = await page.pdf({ preferCSSPageSize: true })
      await page.emulateMedia({ media: null })
      writeFileSync(`${printed}/${title.replace(/\W+/g, '-')}-${name}.pdf`, pdf)
      const pages = await read(pdf)
      expect(pages.length).toBe(laid)
      expect(pages.length).toBeGreaterThan(0)
      for (const [i, one] of pages.entries()) {
        expect(Math.abs(one.size[0] - points[0])).toBeLessThan(0.5)
        expect(Math.abs(one.size[1] - points[1])).toBeLessThan(0.5)
        expect(one.text).toContain(`${i + 1} of ${pages.length}`)
      }
      const all = pages.map(one => one.text).join(' ')
      for (const word of words) expect(all).toContain(word)
    },
  )
})

describe('the place', () => {
  it('is worked by the keys alone, and prints with one press', async () => {
    await page.evaluate(() => {
      Object.assign(window, { printed: 0 })
      window.print = () => {
        Object.assign(window, { printed: (window as unknown as { printed: number }).printed + 1 })
      }
    })
    await choose('Patch sheet')
    await page.keyboard.press('ArrowDown')
    await page.locator('.paper-page[aria-label^="Stage plan"]').first().waitFor()
    await page.keyboard.press('ArrowUp')
    await page.locator('.paper-page[aria-label^="Patch sheet"]').first().waitFor()
    const button = page.getByRole('button', { name: 'Print', exact: true })
    for (let i = 0; i < 40; i++) {
      if (await button.evaluate(element => element === document.activeElement)) break
      await page.keyboard.press('Tab')
    }
    await page.keyboard.press('Enter')
    expect(await page.evaluate('window.printed')).toBe(1)
  })

  it('keeps the contact on this browser and prints it for the house', async () => {
    await page.getByText('For the head and the house').click()
    await page.getByLabel('Venue').fill('The Tide Mill')
    await page.getByLabel('Telephone').fill('555 0100')
    await choose('For the house')
    await page.reload()
    await choose('For the house')
    const [first] = await read(await page.pdf({ preferCSSPageSize: true }))
    expect(first!.text).toContain('The Tide Mill')
    expect(first!.text).toContain('555 0100')
  })

  it('prints a whole group, each sheet on pages of its own', async () => {
    await choose('All 4: Build sheets')
    const laid = await page.locator('.paper-page').count()
    const pages = await read(await page.pdf({ preferCSSPageSize: true }))
    expect(pages.length).toBe(laid)
    expect(pages.filter(one => one.text.includes('1 of ')).length).toBe(4)
  })

  it('fits a phone: the list, and under it the page, scaled, none of it wider than the screen', async () => {
    await page.setViewportSize({ width: 390, height: 844 })
    await choose('Patch sheet')
    expect(await page.evaluate('document.querySelector(".whole").scrollWidth')).toBeLessThanOrEqual(390)
    const frame = (await page.locator('.paper-frame').first().boundingBox())!
    expect(frame.width).toBeLessThanOrEqual(390)
    await picture(page, 'paper/phone')
  })

  it('had no fault on the way', () => {
    expect(faults).toEqual([])
  })
})
