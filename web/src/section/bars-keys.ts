// Bars put in and taken out by key: those looped on the chart, or one at the playhead.

import { barBeatAt, barStart } from '@glowchart/shared/time/meter.ts'
import { sectionAt } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { chooseThing, useChoice } from '../document/choice.ts'
import { say, useSession } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { songPosition } from '../transport/moves.ts'
import { loopOnChart } from '../version/on-chart.ts'
import { insertBars, removeBars } from './acts.ts'

/** 0-based bars of a section that the next key is about. */
interface Held {
  readonly section: string
  readonly bar: number
  readonly count: number
  /** They end inside the section they begin in. */
  readonly inside: boolean
}

function barsHeld(): (Held & { looped: boolean }) | null {
  const viewed = viewedSongNow()
  if (!viewed) return null
  const { timeline } = viewed
  const { status } = useSession.getState()
  const loop = status?.song === viewed.id ? loopOnChart(viewed, status.loop) : null
  const from = ticks(Math.round(loop?.from ?? songPosition()))
  const first = barBeatAt(timeline.meters, from).bar
  const last = loop ? barBeatAt(timeline.meters, ticks(loop.to - 1)).bar : first
  const home = sectionAt(timeline, barStart(timeline.meters, first)) ?? timeline.sections.at(-1)
  if (!home) return null
  const bar = Math.min(first - home.firstBar, home.bars)
  const inside = last < home.firstBar + home.bars
  return { section: home.id, bar, count: last - first + 1, inside, looped: loop !== null }
}

/** As many bars as are looped, before them; without a loop one bar, before that of the playhead. */
export function insertBarsHere(): void {
  const held = barsHeld()
  if (held) insertBars(held.section, held.bar, held.count)
}

/** Takes the looped bars out. */
export function removeBarsHere(): void {
  const held = barsHeld()
  if (!held?.looped) say('No bars are chosen: drag along the bar numbers, or loop a section.')
  else if (!held.inside) say('The bars lie in several sections: take them out of one at a time.')
  else removeBars(held.section, held.bar, held.count)
}

/** The section of bars just looped comes to the side, unless cues are chosen: there its bars can be changed. */
export function chooseLooped(from: number): void {
  const section = viewedSongNow() && sectionAt(viewedSongNow()!.timeline, ticks(from))
  if (section && useChoice.getState().cues.length === 0) chooseThing('section', section.id)
}
