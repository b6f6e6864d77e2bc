// A sweep over the paper: it flows over line ends as text does, and chooses every cue it touches on the parts it spans.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import type { ChosenCue } from '../document/choice.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { keyOf, partAt } from './grip.ts'
import type { Page, PlacedLine } from './page.ts'

export interface Sweep {
  readonly from: number
  readonly to: number
  readonly parts: readonly string[]
  readonly cues: readonly ChosenCue[]
}

interface End {
  readonly at: PlacedLine
  readonly y: number
  readonly tick: number
}

export function swept({ song }: ViewedSong, page: Page, places: readonly CuePlace[], a: End, b: End): Sweep {
  const order = (page.lines[0]?.rows ?? []).map(row => row.part.part)
  const rows = [a, b].map(end => order.indexOf(partAt(end.at, end.y, true) ?? ''))
  const parts = order.slice(Math.max(0, Math.min(...rows)), Math.max(...rows) + 1)
  const from = Math.min(a.tick, b.tick)
  const to = Math.max(a.tick, b.tick)
  const cues = new Map<string, ChosenCue>()
  for (const place of places) {
    const part = song.tracks[place.cue.track]?.part
    if (part === undefined || !parts.includes(part) || place.at >= to || place.at + place.length <= from)
      continue
    cues.set(keyOf(place), { section: place.sourceSection, cue: place.id })
  }
  return { from, to, parts, cues: [...cues.values()] }
}
