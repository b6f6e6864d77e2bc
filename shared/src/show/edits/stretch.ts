// What time put into a section, or taken out of it, does to its cues, tempo marks and meters.

import type { Level } from '../../light/schema.ts'
import { withoutStart } from '../../time/pickup.ts'
import type { Ticks } from '../../time/units.ts'
import type { Cue, Section, TempoMark } from '../song.ts'

const sum = (a: number, b: number): Ticks => (a + b) as Ticks

/** Ticks put in at a place: cues after it move, those across it grow. At 0 all move, pick-ups too. */
export function cueWithTime(cue: Cue, at: number, ticks: number): Cue {
  if (at === 0 || cue.at >= at) return { ...cue, at: sum(cue.at, ticks) }
  if (cue.at + cue.length <= at) return cue
  const offset = at - cue.at
  return withPoints({ ...cue, length: sum(cue.length, ticks) }, points =>
    points.map(p => (p.at > offset ? { ...p, at: sum(p.at, ticks) } : p)),
  )
}

/** Ticks [from, to) taken out: cues inside go (null), those after move, those across shrink. */
export function cueWithoutTime(cue: Cue, from: number, to: number): Cue | null {
  const end = cue.at + cue.length
  if (end <= from) return cue
  if (cue.at >= to) return { ...cue, at: sum(cue.at, from - to) }
  if (cue.at >= from) {
    if (end <= to) return null
    return { ...withoutStart(cue, (to - cue.at) as Ticks), at: from as Ticks }
  }
  if (end <= to) return { ...cue, length: (from - cue.at) as Ticks }
  const [first, last] = [from - cue.at, to - cue.at]
  return withPoints({ ...cue, length: sum(cue.length, from - to) }, points => {
    const kept = points.flatMap(p => {
      if (p.at <= first) return [p]
      return p.at < last ? [] : [{ ...p, at: sum(p.at, from - to) }]
    })
    return kept.length > 0 ? kept : [{ ...points[0]!, at: first as Ticks }]
  })
}

type Points = Exclude<Level, number>

function withPoints(cue: Cue, change: (points: Points) => Points): Cue {
  const { light } = cue
  if ('look' in light || typeof light.level === 'number') return cue
  return { ...cue, light: { ...light, level: change(light.level) } }
}

/** A step at the very start stays when time is put in before it: the section begins in its tempo. */
export function tempoWithTime(marks: readonly TempoMark[], at: number, ticks: number): TempoMark[] {
  return marks.map(mark => {
    const stays = mark.at < at || (at === 0 && mark.at === 0 && mark.glide === undefined)
    if (!stays) return { ...mark, at: sum(mark.at, ticks) }
    if (mark.glide === undefined || mark.at + mark.glide <= at) return mark
    return { ...mark, glide: sum(mark.glide, ticks) }
  })
}

/** What follows keeps its tempo: the last mark taken out becomes a step where the time was, unless one follows there. */
export function tempoWithoutTime(marks: readonly TempoMark[], from: number, to: number): TempoMark[] {
  const before = marks.filter(mark => mark.at < from).map(mark => shortGlide(mark, from, to))
  const after = marks.filter(mark => mark.at >= to).map(mark => ({ ...mark, at: sum(mark.at, from - to) }))
  const gone = marks.findLast(mark => mark.at >= from && mark.at < to)
  if (!gone || after[0]?.at === from) return [...before, ...after]
  return [...before, { at: from as Ticks, bpm: gone.bpm }, ...after]
}

function shortGlide(mark: TempoMark, from: number, to: number): TempoMark {
  if (mark.glide === undefined) return mark
  const end = mark.at + mark.glide
  return end <= from ? mark : { ...mark, glide: (mark.glide - (Math.min(end, to) - from)) as Ticks }
}

type Meters = Section['meters']

/** As for tempo: a meter at bar 0 stays there, so that the new bars are in it. */
export const metersWithBars = (meters: Meters, bar: number, count: number): Meters =>
  meters.map(m => (m.bar < bar || m.bar === 0 ? m : { ...m, bar: m.bar + count }))

export function metersWithoutBars(meters: Meters, bar: number, count: number): Meters {
  const before = meters.filter(m => m.bar < bar)
  const after = meters.filter(m => m.bar >= bar + count).map(m => ({ ...m, bar: m.bar - count }))
  const gone = meters.findLast(m => m.bar >= bar && m.bar < bar + count)
  return gone && after[0]?.bar !== bar ? [...before, { ...gone, bar }, ...after] : [...before, ...after]
}
