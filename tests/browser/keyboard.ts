// The whole page by keyboard alone: everything is reached, named, visible and left again, and single letters can be switched off.
// Part of songs.test.ts, which serves it.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { writing } from './writing.ts'

let page: Page

interface Stop {
  /** Marks the element, so that it is known when it comes again; null: the page has the focus, no element. */
  id: number | null
  what: string
  named: boolean
  ringed: boolean
  inView: boolean
}

/** The element that has the focus. Its name is by its label, its content or its title. */
function readFocus(): Stop {
  const element = document.activeElement
  if (!element || element === document.body)
    return { id: null, what: 'page', named: true, ringed: true, inView: true }
  const marked = element as Element & { stop?: number }
  const counter = window as unknown as { stops?: number }
  if (marked.stop === undefined) {
    counter.stops = (counter.stops ?? 0) + 1
    marked.stop = counter.stops
  }
  const labels = 'labels' in element ? [...((element.labels as NodeListOf<Element> | null) ?? [])] : []
  const by = element.getAttribute('aria-labelledby')?.split(' ') ?? []
  const words = [
    element.getAttribute('aria-label'),
    element.getAttribute('title'),
    element.textContent,
    ...labels.map(label => label.textContent),
    ...by.map(id => document.getElementById(id)?.textContent),
  ]
  const box = element.getBoundingClientRect()
  const style = getComputedStyle(element)
  return {
    id: marked.stop,
    what: element.outerHTML.slice(0, 120),
    named: words.some(word => (word ?? '').trim() !== ''),
    ringed: style.boxShadow !== 'none' || (style.outlineStyle !== 'none' && style.outlineWidth !== '0px'),
    inView:
      box.width > 0 && box.left < innerWidth && box.right > 0 && box.top < innerHeight && box.bottom > 0,
  }
}

/** Presses a key till the focus is where it was at first, and tells the stops on the way. */
async function round(key: 'Tab' | 'Shift+Tab'): Promise<Stop[]> {
  const stops: Stop[] = []
  for (let n = 0; n < 400; n++) {
    await page.keyboard.press(key)
    const stop = await page.evaluate(readFocus)
    if (stops.length > 2 && stop.id === stops[0]!.id) return stops
    stops.push(stop)
  }
  throw new Error(
    `no way round: the last stops are ${stops
      .slice(-4)
      .map(s => s.what)
      .join('\n')}`,
  )
}

export function byKeyboardAlone(): void {
  let on: Stop[] = []

  beforeAll(async () => {
    page = await writing.open(undefined, { reducedMotion: 'reduce' })
    page.setDefaultTimeout(20_000)
    await page.getByText('No advice', { exact: true }).waitFor()
  })
  afterAll(() => page?.close())

  it('everything is reached and left again, has a name, shows the focus and is in view', async () => {
    on = await round('Tab')
    expect(on.length).toBeGreaterThan(30)
    expect(on.filter(stop => !stop.named)).toEqual([])
    expect(on.filter(stop => !stop.ringed)).toEqual([])
    expect(on.filter(stop => !stop.inView)).toEqual([])
  })

  it('the way back has the same stops', async () => {
    const back = await round('Shift+Tab')
    expect(new Set(back.map(stop => stop.id))).toEqual(new Set(on.map(stop => stop.id)))
  })

  it('single letters and signs can be switched off, and found again', async () => {
    await page.keyboard.press('?')
    const keys = page.getByRole('dialog', { name: 'Keys' })
    await keys.getByRole('checkbox').focus()
    await page.keyboard.press('Space')
    await page.keyboard.press('Escape')
    await keys.waitFor({ state: 'hidden' })
    await page.keyboard.press('?')
    await page.keyboard.press('=')
    expect(await keys.isVisible()).toBe(false)
    expect(await page.getByText('16 bars a line').count()).toBe(1)
    // The list is found without them, by a button.
    await page.getByRole('button', { name: 'Keys' }).focus()
    await page.keyboard.press('Enter')
    await keys.getByRole('checkbox').focus()
    await page.keyboard.press('Space')
    await page.keyboard.press('Escape')
    await keys.waitFor({ state: 'hidden' })
    // The page hears a moment later than the browser that the list is closed.
    await expect
      .poll(
        async () => {
          if ((await page.getByText('16 bars a line').count()) === 1) await page.keyboard.press('=')
          return page.getByText('32 bars a line').count()
        },
        { timeout: 15_000 },
      )
      .toBe(1)
    await page.keyboard.press('-')
  })
}
