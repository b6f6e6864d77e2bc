// A musician goes through a whole set by keys alone, and by a pedal alone: what the page says, and what is on the wire.

import { decodeFrame, type Frame } from '@glowchart/shared/frame.ts'
import type { EngineStatus } from '@glowchart/shared/messages.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'
import { random } from '../support/random.ts'
import { bytesOf, DARK, DIGIT, edits, notes, PART } from './walk-set.ts'

const LONG = 90_000
const SOON = { timeout: 20_000 }
let served: Served
let browser: Browser
let page: Page
let watcher: PageSocket
const faults: string[] = []

beforeAll(async () => {
  ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
  watcher = await openPage(served.url, 'test-watcher')
  for (const [edit, args] of edits)
    expect(await watcher.ask({ type: 'edit', edit, args })).toMatchObject({ type: 'done' })
  watcher.send({ type: 'frames', on: true })
  page = await opened(1440, 900)
}, LONG)
afterAll(async () => {
  watcher?.close()
  await browser?.close()
  await served?.close()
})

async function opened(width: number, height: number): Promise<Page> {
  const fresh = await browser.newPage({ viewport: { width, height }, hasTouch: true })
  fresh.on('pageerror', error => faults.push(String(error)))
  await fresh.goto(`${served.url}/#run`)
  await fresh.getByRole('button', { name: /^Next: / }).waitFor(SOON)
  return fresh
}

const frame = (): Frame => decodeFrame(watcher.frames.at(-1)!)!
const hex = ({ levels }: Frame): string => Buffer.from(levels).toString('hex')
/** Until the wire carries just these bytes. */
const wire = (bytes: string) =>
  expect.poll(() => hex(frame()) === bytes, { ...SOON, interval: 20 }).toBe(true)
const status = (): EngineStatus => {
  const last = watcher.messages.findLast(m => m.type === 'status' && m.status !== null)
  return (last as { status: EngineStatus }).status
}
const nextSays = (says: string) =>
  page.getByRole('button', { name: new RegExp(`^Next: .*${says}`) }).waitFor(SOON)
const timerSays = (says: RegExp) =>
  expect
    .poll(() => page.getByRole('timer').getAttribute('aria-label', { timeout: 1000 }), {
      ...SOON,
      interval: 40,
    })
    .toMatch(says)
const stands = (name: string) =>
  page
    .getByRole('navigation', { name: 'Set list' })
    .locator('[aria-current]')
    .filter({ hasText: name })
    .waitFor(SOON)
const sees = (text: string) => page.getByText(text).first().waitFor(SOON)

type Name = Exclude<keyof typeof notes, 'blackout' | 'bump'>
interface Walker {
  press(name: Name): Promise<void>
  /** Darkens, or flashes the part, and returns what ends it. */
  hold(name: 'blackout' | 'bump'): Promise<() => Promise<void>>
}

const keys = {
  next: ' ',
  back: 'Backspace',
  stop: 's',
  repeat: 'r',
  house: 'h',
  strobeStop: 'x',
  tapTempo: 't',
  nudgeOn: 'ArrowRight',
  grandDown: 'ArrowDown',
  grandUp: 'ArrowUp',
  sectionBack: '[',
  songOn: '.',
} as const

/** Keys alone: not even the part's slider is pointed at. */
const byKeys: Walker = {
  async press(name) {
    const { keyboard } = page
    await lift()
    if (name !== 'partDown' && name !== 'partUp') return keyboard.press(keys[name])
    await keyboard.press('m')
    const slider = page.getByRole('region', { name: 'More' }).getByRole('slider', { name: 'Tubes' })
    await slider.waitFor(SOON)
    for (let i = 0; i < 80 && !(await slider.evaluate(el => el === document.activeElement)); i++)
      await keyboard.press('Tab')
    for (let i = 0; i < 10; i++) await keyboard.press(name === 'partDown' ? 'ArrowLeft' : 'ArrowRight')
    await expect.poll(() => status().live.parts[PART] ?? 1, SOON).toBe(name === 'partDown' ? 0.9 : 1)
    await keyboard.press('m')
  },
  async hold(name) {
    await lift()
    const key = name === 'blackout' ? 'b' : DIGIT
    await page.keyboard.down(key)
    if (name === 'bump') return () => page.keyboard.up(key)
    await page.getByRole('button', { name: 'Restore' }).waitFor(SOON)
    await page.keyboard.up(key)
    // It latches: one press restores.
    return () => page.keyboard.press(key)
  },
}

/** The guard falls back by itself. */
async function lift(): Promise<void> {
  const on = page.getByRole('button', { name: 'Guard on: lift it' })
  if (await on.isVisible()) await page.keyboard.press('g')
  await page.getByRole('button', { name: 'Guard lifted: put it on' }).waitFor(SOON)
}

let at = 0
const midi = (...bytes: number[]): void => {
  at += 100
  watcher.send({ type: 'midi', midi: { port: 'Pedals', at, bytes } })
}
/** Bytes of a pedal board on channel 16; the page is never touched. */
const byPedal: Walker = {
  async press(name) {
    midi(0x9f, notes[name][0], 100)
    midi(0x8f, notes[name][0], 0)
  },
  async hold(name) {
    midi(0x9f, notes[name][0], 100)
    return async () => midi(0x8f, notes[name][0], 0)
  },
}

async function walkTheSet({ press }: Walker): Promise<void> {
  // From a song that is none of the set.
  await watcher.ask({ type: 'transport', transport: { do: 'song', song: 'porchlight', at: 0, place: 0 } })
  await nextSays('Start Porchlight')
  await press('songOn')
  await nextSays('Start Kettle Weather')
  await press('back')
  await stands('Doors open')
  await wire(bytesOf({ look: 'doorsOpen' }))
  await nextSays('Start Kettle Weather')

  await press('next')
  await stands('Kettle Weather')
  await timerSays(/^\d( bars \d)? beats to Whistle$/)
  await wire(bytesOf({ song: 'kettle', section: 'Steam' }))
  await nextSays('Leave the vamp')
  await timerSays(/^round [2-9]$/)
  await wire(bytesOf({ song: 'kettle', section: 'Whistle' }))
  await press('next')
  await wire(bytesOf({ song: 'kettle', section: 'Pour' }))
  await nextSays('Play Pour once more')
  await press('repeat')
  await timerSays(/^round 1$/)
  await nextSays('Leave the repeat')
  await press('stop')
  await nextSays('Go on from bar')
  await sees('stands still')
  await wire(bytesOf({ song: 'kettle', section: 'Pour' }))
  await press('next')
  await timerSays(/^round 2$/)
  await press('repeat')
  await timerSays(/ to Lid$/)
  await nextSays('Play Lid once more')

  const flashes = () => new Set(watcher.frames.slice(-20).map(bytes => hex(decodeFrame(bytes)!))).size
  await expect.poll(flashes, { ...SOON, interval: 20 }).toBeGreaterThan(1)
  await press('strobeStop')
  await expect.poll(flashes, { ...SOON, interval: 20 }).toBe(1)
  expect(hex(frame())).not.toBe(DARK)
  await press('strobeStop')
  await press('sectionBack')
  await timerSays(/ to (Lid|the end)$/)
  await nextSays('Tuning')
  await wire(DARK)
  await sees('is over')
}

/** Between two taps, ms: 171 BPM, far from the song's 120. */
const TAP = 350

/** Ends at the look after the set. */
async function stepThrough({ press }: Walker): Promise<void> {
  await press('next')
  await stands('Tuning')
  await wire(bytesOf({ look: 'tuning' }))
  await nextSays('Start Ladder Lamps')
  await press('next')
  await timerSays(/^round 1$/)
  await nextSays('Step to Rung')
  await wire(bytesOf({ song: 'ladder', section: 'Ground' }))

  // 1.92 ticks a ms at 120 BPM; the section of two bars comes round.
  const before = frame()
  const moved = () => {
    const now = frame()
    const ticks = now.position - before.position - (now.due - before.due) * 1.92
    return Math.round(((ticks % 7680) + 7680) % 7680) % 7680
  }
  for (let i = 1; i <= 3; i++) {
    await press('nudgeOn')
    await expect.poll(moved, { ...SOON, interval: 20 }).toBeCloseTo(i * 20 * 1.92, -1)
  }
  const taps: number[] = []
  for (let i = 0; i < 5; i++) {
    const due = (taps[0] ?? performance.now()) + i * TAP
    await new Promise(resolve => setTimeout(resolve, due - performance.now()))
    taps.push(performance.now())
    await press('tapTempo')
  }
  // The machine is busy: what was asked for is what was really tapped.
  const tapped = 60_000 / ((taps.at(-1)! - taps[0]!) / (taps.length - 1))
  await expect.poll(() => Math.abs(status().bpm / tapped - 1), SOON).toBeLessThan(0.1)
  const shown = async () => Number.parseFloat((await page.getByText(/^Own clock/).textContent())!.slice(10))
  // The last tap may still be on its way: both are read anew each time.
  await expect.poll(async () => Math.abs((await shown()) - status().bpm), SOON).toBeLessThan(0.5)

  await press('next')
  await nextSays('Step to Top')
  await wire(bytesOf({ song: 'ladder', section: 'Rung' }))
  await press('next')
  await nextSays('Leave the vamp')
  await wire(bytesOf({ song: 'ladder', section: 'Top' }))
  await press('next')
  await nextSays('Start Short Cork')
  await press('next')
  await stands('Short Cork')
  await wire(bytesOf({ song: 'cork', section: 'Cork' }))
  await nextSays('Good night')
  await sees('is over')
  await wire(DARK)
  await press('next')
  await stands('Good night')
  await nextSays('The set is over')
}

async function handsOnTheLight({ press, hold }: Walker): Promise<void> {
  const end = { look: 'goodNight' }
  await wire(bytesOf(end))
  const restore = await hold('blackout')
  await wire(DARK)
  await page.getByRole('button', { name: 'Restore' }).waitFor(SOON)
  await restore()
  await wire(bytesOf(end))
  const letGo = await hold('bump')
  await wire(bytesOf(end, { bumps: { [PART]: 1 } }))
  await letGo()
  await wire(bytesOf(end))
  await press('partDown')
  await wire(bytesOf(end, { parts: { [PART]: 0.9 } }))
  await press('partUp')
  await wire(bytesOf(end))
  await press('grandDown')
  await wire(bytesOf(end, { grand: 0.9 }))
  await expect.poll(() => page.getByRole('slider', { name: 'Grand master' }).inputValue(), SOON).toBe('90')
  await press('grandUp')
  await wire(bytesOf(end))
  await press('house')
  await page.getByText('Work light').first().waitFor(SOON)
  await wire(bytesOf({ look: 'workLight' }))
  // The set stays where it was.
  await nextSays('The set is over')
  await press('back')
  await stands('Short Cork')
}

describe.each([
  ['keys alone', byKeys],
  ['a pedal alone', byPedal],
])('a set walked through by %s', (_, walker) => {
  it(
    'goes from the walk-in through a song with a vamp, a repeat, a stop and strobes',
    () => walkTheSet(walker),
    LONG,
  )
  it(
    'goes on through a stepped song and one that ends by itself to the last look',
    () => stepThrough(walker),
    LONG,
  )
  it('is darkened, flashed, mastered and lit by the house look', () => handsOnTheLight(walker), LONG)
})

describe('a screen that dims', () => {
  it('does so in three steps by one key, and the light stays', async () => {
    const dim = () => page.locator('.run').getAttribute('data-dim')
    const before = hex(frame())
    for (const step of ['1', '2', '0']) {
      await page.keyboard.press('d')
      await expect.poll(dim, SOON).toBe(step)
    }
    expect(hex(frame())).toBe(before)
  })
})

describe.each([
  ['laptop with a touch screen', 1440, 900],
  ['phone', 390, 844],
])('a stray touch on a %s', (_, width, height) => {
  it(
    'changes nothing on the wire while the guard is on, wherever it falls',
    async () => {
      await watcher.ask({ type: 'transport', transport: { do: 'look', look: 'doorsOpen', place: 0 } })
      await wire(bytesOf({ look: 'doorsOpen' }))
      const touched = await opened(width, height)
      await touched.getByRole('button', { name: 'Guard on: lift it' }).waitFor(SOON)
      const { live } = status()
      const first = watcher.frames.length
      const any = random(width)
      const spots = Array.from({ length: 15 }, () => [any() * width, any() * height] as const)
      for (const one of await touched.locator('.hand:visible, .blackout, .grand input').all()) {
        const box = (await one.boundingBox())!
        // The guard is for being lifted.
        if (!(await one.getAttribute('aria-label'))?.startsWith('Guard') && box.y + 20 < height)
          spots.push([box.x + box.width / 3, box.y + 20])
      }
      for (const [x, y] of spots) {
        await touched.touchscreen.tap(x, y)
        if (await touched.getByRole('button', { name: 'Guard lifted: put it on' }).isVisible())
          await touched.keyboard.press('g')
        if (!touched.url().endsWith('#run')) await touched.goto(`${served.url}/#run`)
      }
      // And a stray click of a mouse on what slides.
      const slides = (await touched.getByRole('slider', { name: 'Grand master' }).boundingBox())!
      await touched.mouse.click(slides.x + slides.width / 3, slides.y + slides.height / 2)
      const asked = await watcher.ask({ type: 'transport', transport: { do: 'speed', factor: 1 } })
      expect(asked.type).toBe('done')
      const seen = new Set(watcher.frames.slice(first).map(bytes => hex(decodeFrame(bytes)!)))
      expect([...seen]).toEqual([bytesOf({ look: 'doorsOpen' })])
      expect(status()).toMatchObject({ look: 'doorsOpen', place: 0, live })
      await touched.close()
      expect(faults).toEqual([])
    },
    LONG,
  )
})
