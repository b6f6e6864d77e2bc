// A look on its way from the list to the chart, by drag and drop.

import { type DragEvent, useState } from 'react'
import { type Page, spotOf, tickAt } from '../chart/page.ts'
import { type Grid, onGrid, placeWords } from '../chart/snap.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { placeLook } from './place.ts'

const KIND = 'application/x-glowchart-look'

export function carryLook({ dataTransfer }: DragEvent, look: string): void {
  dataTransfer.setData(KIND, look)
  dataTransfer.effectAllowed = 'copy'
}

/** The chart's end of it: where the look would stand, said in a nib, and the drop. */
export function useLookDrop(page: Page, { timeline }: ViewedSong, grid: Grid) {
  const [tick, setTick] = useState<number | null>(null)
  const tickOf = (event: DragEvent<HTMLElement>): number | null => {
    if (!event.dataTransfer.types.includes(KIND)) return null
    const box = event.currentTarget.getBoundingClientRect()
    const spot = tickAt(page, event.clientX - box.left, event.clientY - box.top)
    return spot && spot.bars >= 0 && spot.bars < spot.at.line.bars
      ? Math.max(0, onGrid(timeline.meters, spot.tick, grid))
      : null
  }
  const spot = tick === null ? null : spotOf(page, tick)
  return {
    nib: spot && tick !== null && { left: spot.x, at: spot.at, says: placeWords(timeline.meters, tick) },
    handlers: {
      onDragOver(event: DragEvent<HTMLElement>) {
        const at = tickOf(event)
        setTick(at)
        if (at !== null) event.preventDefault()
      },
      onDragLeave: () => setTick(null),
      onDrop(event: DragEvent<HTMLElement>) {
        const at = tickOf(event)
        setTick(null)
        if (at === null) return
        event.preventDefault()
        // Nothing is chosen, so that the looks stay at the side for the next one.
        placeLook(event.dataTransfer.getData(KIND), at)
      },
    },
  }
}
