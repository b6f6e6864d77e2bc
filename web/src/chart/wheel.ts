// The wheel on the chart: it scrolls by lines; with Ctrl, and by two fingers, it changes the bars a line, and the bar
// under the pointer stays where it is.

import { type RefObject, useEffect, useLayoutEffect, useRef } from 'react'
import { usePreferences, type Zoom, zooms } from '../document/preferences.ts'
import { lineStart } from './lines.ts'
import { type Page, spotOf, tickAt } from './page.ts'

/** Travel of the wheel for one line, px; most mice send 100 or 120 a notch. */
const NOTCH = 80
/** Px that one line of a wheel that counts in lines stands for. */
const LINE = 32
/** Fingers that move apart (or together) so far, as a ratio, change the bars a line by one step. */
const PINCH = 1.35
/** Room over a line that is scrolled to, px. */
const ABOVE = 6

/**
 * Where the next line up (−1) or down (+1) stands, px; a line higher than the page is passed in steps.
 * @param sight how far the page is scrolled, how much of it is in sight, and how high all of it is with what stands
 *   under its last line
 */
function lineScroll(page: Page, sight: Element, by: 1 | -1): number {
  const { scrollTop: top, clientHeight: height, scrollHeight } = sight
  const most = Math.max(0, scrollHeight - height)
  const tops = page.lines.map((line, i) => (i === 0 ? 0 : line.top - ABOVE))
  const next = by === 1 ? tops.find(t => t > top + 1) : tops.findLast(t => t < top - 1)
  const to = next ?? (by === 1 ? most : 0)
  const step = Math.max(60, height - 40)
  return Math.min(most, Math.max(0, Math.abs(to - top) > step ? top + by * step : to))
}

/** A step more (+1) or fewer (−1) bars a line than the page has now, be that chosen or fitted. */
function zoomFrom(bars: number, by: 1 | -1): Zoom | undefined {
  const counted = zooms.filter(zoom => zoom !== 'page')
  return by === 1 ? counted.find(zoom => zoom > bars) : counted.findLast(zoom => zoom < bars)
}

interface Held {
  readonly tick: number
  /** From the upper edge of the chart, px. */
  readonly y: number
}

export function useWheel(scroller: RefObject<HTMLElement | null>, page: Page, barsALine: number): void {
  const latest = useRef({ page, barsALine })
  latest.current = { page, barsALine }
  const held = useRef<Held | null>(null)

  const before = useRef({ page, barsALine, top: 0 })
  // Before the page is seen with its new lines.
  useLayoutEffect(() => {
    const element = scroller.current
    const { page: old, barsALine: bars, top } = before.current
    before.current = { page, barsALine, top: element?.scrollTop ?? 0 }
    if (!element || bars === barsALine) return
    // By key, the first line in sight stays the first.
    const first = old.lines.find(line => line.top + line.height / 2 > top)
    const tick = held.current?.tick ?? (first ? lineStart(first.line) : 0)
    const at = spotOf(page, tick)?.at
    if (!at) return
    element.scrollTop = held.current
      ? at.fieldTop + at.head + at.rowsHeight / 2 - held.current.y
      : at.line.firstBar === 0
        ? 0
        : at.top - ABOVE
    before.current.top = element.scrollTop
    held.current = null
  }, [scroller, page, barsALine])

  useEffect(() => {
    const element = scroller.current
    if (!element) return
    let travel = 0
    let apart = 0

    const zoomAt = (x: number, y: number, by: 1 | -1) => {
      const now = latest.current
      const zoom = zoomFrom(now.barsALine, by)
      if (zoom === undefined) return
      const box = element.getBoundingClientRect()
      const tick = tickAt(now.page, x - box.left, y - box.top + element.scrollTop)?.tick
      held.current = tick === undefined ? null : { tick, y: y - box.top }
      usePreferences.setState({ zoom })
    }
    const onWheel = (event: WheelEvent) => {
      event.preventDefault()
      const by = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? event.deltaY * LINE : event.deltaY
      if (Math.sign(by) !== Math.sign(travel)) travel = 0
      travel += by
      const steps = Math.trunc(travel / NOTCH)
      if (steps === 0) return
      travel -= steps * NOTCH
      const way = steps > 0 ? 1 : -1
      if (event.ctrlKey || event.metaKey) zoomAt(event.clientX, event.clientY, way)
      else {
        element.scrollTop = lineScroll(latest.current.page, element, way)
      }
    }
    const span = ([a, b]: TouchList) => Math.hypot(a!.clientX - b!.clientX, a!.clientY - b!.clientY)
    const onTouchStart = (event: TouchEvent) => {
      apart = event.touches.length === 2 ? span(event.touches) : 0
    }
    const onTouchMove = (event: TouchEvent) => {
      if (event.touches.length !== 2 || apart === 0) return
      event.preventDefault()
      const ratio = span(event.touches) / apart
      if (ratio < PINCH && ratio > 1 / PINCH) return
      apart *= ratio
      const [a, b] = event.touches
      zoomAt((a!.clientX + b!.clientX) / 2, (a!.clientY + b!.clientY) / 2, ratio > 1 ? -1 : 1)
    }
    const onScroll = () => {
      before.current.top = element.scrollTop
    }
    element.addEventListener('scroll', onScroll, { passive: true })
    // React listens passively, so that the page would scroll and zoom along.
    element.addEventListener('wheel', onWheel, { passive: false })
    element.addEventListener('touchstart', onTouchStart, { passive: true })
    element.addEventListener('touchmove', onTouchMove, { passive: false })
    return () => {
      element.removeEventListener('scroll', onScroll)
      element.removeEventListener('wheel', onWheel)
      element.removeEventListener('touchstart', onTouchStart)
      element.removeEventListener('touchmove', onTouchMove)
    }
  }, [scroller])
}
