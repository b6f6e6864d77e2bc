// Writes one section: a cue or two a part, with fades at its joins, builds into what opens, and a pick-up.

import { barStart } from '../../time/meter.ts'
import type { Timeline } from '../../time/timeline.ts'
import type { Ticks } from '../../time/units.ts'
import type { Cue, Curve, Fade, Song } from '../song.ts'
import type { Scene } from './casting.ts'
import { chosen, shareFor } from './chance.ts'
import { coloursOf, evenly, levelOf, motionOf, movingLevel } from './light.ts'
import { still, type Voice } from './moods.ts'
import type { Tints } from './palette.ts'
import { cycleOf, fastestBpmOf } from './rate.ts'

/** A rise in energy from which on it is prepared: a build before it, a pick-up into it. */
const RISE = 0.2
/** From so many bars on a section has a second half. */
const LONG_BARS = 8

/** A cue of a scene for a part; its track is still to be found. */
export interface Written {
  readonly part: string
  readonly cue: Omit<Cue, 'track'>
}

export function writtenCues(
  song: Song,
  timeline: Timeline,
  scene: Scene,
  tints: Tints,
  seed: number,
): Written[] {
  const page = pageOf(song, timeline, scene.section)
  const cues = [...scene.cast].flatMap(([part, voice]) =>
    voiceCues(page, scene, voice, tints, seed, part).map(cue => ({ part, cue })),
  )
  return [...pickUp(page, scene, tints), ...cues]
}

/** A section's measures, all in ticks from its start. */
interface Page {
  readonly song: Song
  readonly timeline: Timeline
  readonly section: string
  readonly bars: number
  readonly length: number
  readonly vamp: boolean
  readonly bpm: number
  /** Start of a 0-based bar; −1 is the bar before the section, `bars` the one after it. */
  bar(n: number): number
}

function pageOf(song: Song, timeline: Timeline, section: string): Page {
  const { start, end, firstBar, bars, vamp } = timeline.sections.find(s => s.id === section)!
  const bar = (n: number) => barStart(timeline.meters, firstBar + n) - start
  return {
    song,
    timeline,
    section,
    bars,
    length: end - start,
    vamp,
    bpm: fastestBpmOf(timeline, section),
    bar,
  }
}

function voiceCues(page: Page, scene: Scene, voice: Voice, tints: Tints, seed: number, part: string) {
  const { plan, mood, again } = scene
  const movement = chosen(voice.movements, seed, `${mood} movement ${part}`)
  const meter = page.timeline.meters.findLast(m => m.at <= startOf(page))!.meter
  const cycle = cycleOf(movement, meter, page.bpm)
  const pattern = Math.floor(65536 * shareFor(seed, `${mood} pattern ${part}`))
  const isLong = page.bars >= LONG_BARS && !page.vamp
  const middle = page.bar(Math.ceil(page.bars / 2))
  const from = voice.late && again === 0 && page.bars > 1 && !page.vamp ? middle : 0
  const turns = isLong && plan.turnsRound === true && from === 0 && movement.kind !== 'sustain'
  const level = voice.level * (1 + 0.05 * Math.min(2, again))
  return (turns ? [0, middle] : [from]).map((at, half): Omit<Cue, 'track'> => {
    const isOver = !turns || half === 1
    const length = (isOver ? page.length : middle) - at
    const tail = isOver && movement.cycle !== 'beat' ? tailOf(page, scene) : 0
    const turned = half === 1
    return {
      at: at as Ticks,
      length: (length + tail) as Ticks,
      ...(half === 0 && fadeIn(page, scene, at, length)),
      ...(isOver && fadeOut(page, scene, length, tail)),
      origin: 0 as Ticks,
      light: {
        level: isOver ? endingLevel(page, scene, level, length) : levelOf(level),
        colours: coloursOf(voice, turned ? { ...tints, first: tints.second, second: tints.first } : tints),
        motion: motionOf(movement, cycle, pattern, turned),
      },
    }
  })
}

const startOf = ({ timeline, section }: Page): number => timeline.sections.find(s => s.id === section)!.start

const fade = (length: number, curve: Curve): Fade => ({ length: length as Ticks, curve, cut: 0 as Ticks })

/** Quiet light comes up over bars; loud light is there on the one, unless it joins later. */
function fadeIn(page: Page, { plan }: Scene, at: number, length: number): { fadeIn?: Fade } {
  const bars = at > 0 ? Math.max(1, plan.fadeBars) : page.vamp ? 0 : plan.fadeBars
  const fadeLength = Math.min(page.bar(bars), Math.floor(length / 2))
  return fadeLength > 0 ? { fadeIn: fade(fadeLength, 'soft') } : {}
}

/**
 * Into something no louder the light goes over by a bar (a beating one is over before: two rhythms on one light would
 * flash); before something louder it is cut on the one.
 */
function tailOf(page: Page, { plan, after }: Scene): number {
  const goesOver = after !== undefined && after <= plan.energy && !page.vamp
  return goesOver ? page.bar(page.bars + 1) - page.length : 0
}

function fadeOut(
  page: Page,
  { plan, after, isLast }: Scene,
  length: number,
  tail: number,
): { fadeOut?: Fade } {
  if (tail > 0) return { fadeOut: fade(tail, 'soft') }
  if (page.vamp || (after !== undefined && after > plan.energy)) return {}
  const bars = isLast ? Math.min(plan.energy > 0.5 ? 1 : 4, page.bars) : 1
  return {
    fadeOut: fade(Math.min(page.length - page.bar(page.bars - bars), Math.floor(length / 2)), 'early'),
  }
}

/** Rises over the last bars before something more open, sinks in moods that sink. */
function endingLevel(page: Page, { plan, after }: Scene, level: number, length: number) {
  if (page.vamp) return levelOf(level)
  if (plan.sinks) return movingLevel(level, 0.55 * level, length, length)
  const isBuild = after !== undefined && after - plan.energy >= RISE && page.bars >= 2
  if (!isBuild) return levelOf(level)
  const bars = Math.min(4, Math.floor(page.bars / 2))
  return movingLevel(level, level + 0.2, length, Math.min(length, page.length - page.bar(page.bars - bars)))
}

/** Into something much more open, one part comes up alone through the bar before it. */
function pickUp(page: Page, { plan, before, isFirst, cast }: Scene, tints: Tints): Written[] {
  if (isFirst || before === undefined || plan.energy - before < RISE || plan.energy < 0.5) return []
  // A part that then beats would flash with one change more.
  const part = [...cast.keys()].findLast(p => cast.get(p)!.movements.every(m => m.cycle !== 'beat'))
  if (part === undefined) return []
  const bar = -page.bar(-1)
  const light = {
    level: levelOf(0.8),
    colours: evenly(tints, 'pale'),
    motion: motionOf(still, bar as Ticks, 0, false),
  }
  const cue = {
    at: -bar as Ticks,
    length: bar as Ticks,
    name: 'Pick-up',
    fadeIn: fade(bar, 'late'),
    origin: 0 as Ticks,
    light,
  }
  return [{ part, cue }]
}
