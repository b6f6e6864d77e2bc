// The hands of somebody at the page, by mouse alone or by keys alone, and the count of what they did: a click, a drag, a
// turn of the wheel, a press of a key, a value typed into the field that has the keyboard is one gesture each.

import type { Locator, Page } from 'playwright-core'

interface Hands {
  /** Gestures so far. */
  readonly count: number
  /** Each of them, in words. */
  readonly log: readonly string[]
  typed(text: string): Promise<void>
}

interface MouseHands extends Hands {
  click(on: Locator): Promise<void>
  /** Turns the wheel over what scrolls, until the target is within it; no gesture when it is by then. */
  wheelTo(target: Locator, within: Locator): Promise<void>
  /** From point to point, px on the page. */
  drag(from: Point, to: Point, what: string): Promise<void>
}

interface KeyHands extends Hands {
  press(...keys: string[]): Promise<void>
}

/** Nobody works at the very edge of what is in sight, px. */
const EDGE = 20

export interface Point {
  readonly x: number
  readonly y: number
}

function begin(page: Page) {
  const log: string[] = []
  return {
    log,
    get count() {
      return log.length
    },
    async typed(text: string) {
      log.push(`type ${text}`)
      await page.keyboard.type(text)
    },
  }
}

export function mouseOn(page: Page): MouseHands {
  const hands = begin(page)
  return Object.assign(hands, {
    async click(on: Locator) {
      hands.log.push(`click ${on}`)
      const { x, y } = await middleOf(on)
      await page.mouse.click(x, y)
    },
    async wheelTo(target: Locator, within: Locator) {
      const box = (await within.boundingBox())!
      const below = async () => {
        const { y, height } = (await target.boundingBox())!
        const room = await within.evaluate(el => [
          el.scrollTop,
          el.scrollHeight - el.clientHeight - el.scrollTop,
        ])
        if (y < box.y + EDGE) return -Math.min(room[0]!, box.y + EDGE - y)
        return Math.min(Math.floor(room[1]!), Math.max(0, y + height - box.y - box.height + EDGE))
      }
      let by = await below()
      if (by === 0) return
      hands.log.push(`wheel to ${target}`)
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
      while (by !== 0) {
        await page.mouse.wheel(0, Math.sign(by) * 120)
        // The browser scrolls in its own time.
        const before = by
        for (let frame = 0; frame < 60 && by === before; frame++) {
          await page.evaluate(() => new Promise(requestAnimationFrame))
          by = await below()
        }
        if (by === before) throw new Error(`the wheel does not bring ${target} into sight`)
      }
    },
    async drag(from: Point, to: Point, what: string) {
      hands.log.push(`drag ${what}`)
      await page.mouse.move(from.x, from.y)
      await page.mouse.down()
      await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2, { steps: 3 })
      await page.mouse.move(to.x, to.y, { steps: 3 })
      await page.mouse.up()
    },
  }) as MouseHands
}

export function keysOn(page: Page): KeyHands {
  const hands = begin(page)
  return Object.assign(hands, {
    async press(...keys: string[]) {
      for (const key of keys) {
        hands.log.push(key)
        await page.keyboard.press(key)
      }
    },
  }) as KeyHands
}

export async function middleOf(on: Locator): Promise<Point> {
  const { x, y, width, height } = (await on.boundingBox())!
  return { x: x + width / 2, y: y + height / 2 }
}
