// Copying the light of one section onto another, which keeps its name, its length, its meters, tempo and score.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { barStart } from '../../time/meter.ts'
import { withoutStart } from '../../time/pickup.ts'
import { timelineOf } from '../../time/timeline.ts'
import type { Ticks } from '../../time/units.ts'
import { id } from '../fields.ts'
import type { Show } from '../schema.ts'
import type { Cue, Song } from '../song.ts'
import { splitCue } from '../split.ts'
import { freshCueIds, keptInTime, lengthOf, takenCues, tracksFreed, unlinked } from './bake.ts'
import { found, inSong, sectionOf, songOf, withSection } from './change.ts'
import { showEdit } from './edit.ts'

/** Ticks [from, to) of a section. */
type Span = readonly [from: number, to: number]

export const copyEdits = {
  /**
   * Copies what a section plays, of all parts or one. A longer source is cut at the end of `onto`, a shorter one left
   * as it is. `replace`: what stands there as far as the source reaches goes; `over`: only what the copied cues cover,
   * track by track; where one runs on past the end of `onto`, nothing comes after it. Where `onto` repeats another section, it is unlinked first, or the tracks of the one part freed.
   */
  copySection: showEdit(
    { song: id, section: id, onto: id, how: z.enum(['replace', 'over']), part: id.optional() },
    (args, show) => {
      const song = songOf(show, args.song)
      const part = args.part === undefined ? '' : `${partName(show, args.part)} of `
      const [verb, how] = args.how === 'over' ? ['Lay', 'over'] : ['Copy', 'onto']
      return `${verb} ${part}${sectionOf(song, args.section).name} ${how} ${sectionOf(song, args.onto).name}`
    },
    (show, args) =>
      inSong(show, args.song, song => {
        const { section, onto, how, part } = args
        const from = sectionOf(song, section)
        if (section === onto) {
          throw new CodedError('edit.invalid', 'a section cannot be copied onto itself', from.name)
        }
        sectionOf(song, onto)
        if (part !== undefined) partName(show, part)
        const isMeant = (cue: Cue): boolean => part === undefined || song.tracks[cue.track]!.part === part
        const copied = playedIn(show, song, section, onto).filter(isMeant)
        const free = madeFree(show, song, onto, part)
        const home = sectionOf(free, onto)
        const length = lengthOf(timelineOf(song), onto)
        const spanFor = (track: string): Span[] =>
          how === 'replace'
            ? [[Number.NEGATIVE_INFINITY, reachOf(song, section, onto)]]
            : copied.filter(cue => cue.track === track).map(cue => [cue.at, reachOfCue(cue, length)])
        const kept: [string, Cue][] = []
        const fresh: Cue[] = []
        for (const [key, cue] of Object.entries(home.cues).sort(([a], [b]) => (a < b ? -1 : 1))) {
          const [first, ...rest] = isMeant(cue) ? uncovered(cue, spanFor(cue.track)) : [cue]
          if (first) kept.push([key, first])
          fresh.push(...rest)
        }
        fresh.push(...copied)
        const ids = freshCueIds(free, onto, fresh.length)
        const cues = Object.fromEntries([...kept, ...fresh.map((cue, i) => [ids[i]!, cue] as const)])
        return withSection(free, onto, { ...home, cues })
      }),
  ),
}

const partName = (show: Show, part: string): string => found(show.parts, part, 'part', show.name).name

/** What `section` plays, as it would be in a section of the length of `onto`, pick-ups held to the bar before that. */
function playedIn(show: Show, song: Song, section: string, onto: string): Cue[] {
  const baked = song.sections[section]!.sameAs ? unlinked(show, song, section) : song
  const sameAs = { section, swatches: {}, trim: 1, freed: [] }
  const linked = withSection(baked, onto, { ...sectionOf(song, onto), sameAs })
  const { meters, sections } = timelineOf(song)
  const { start, firstBar } = sections.find(s => s.id === onto)!
  const earliest = barStart(meters, firstBar - 1) - start
  return takenCues(show, linked, onto, timelineOf(song)).flatMap(cue => {
    const early = earliest - cue.at
    if (early <= 0) return [cue]
    return early < cue.length ? [withoutStart(cue, early as Ticks)] : []
  })
}

/** The song with `onto` holding cues of its own: all of them, or those of one part. */
function madeFree(show: Show, song: Song, onto: string, part: string | undefined): Song {
  if (!sectionOf(song, onto).sameAs) return song
  if (part === undefined) return keptInTime(unlinked(show, song, onto), onto, timelineOf(song))
  return tracksFreed(
    show,
    song,
    onto,
    song.trackOrder.filter(track => song.tracks[track]!.part === part),
  )
}

/** As far as a source reaches into `onto`, ticks: to its end, or past everything when it is as long or longer. */
function reachOf(song: Song, section: string, onto: string): number {
  const timeline = timelineOf(song)
  const [source, target] = [lengthOf(timeline, section), lengthOf(timeline, onto)]
  return source < target ? source : Number.POSITIVE_INFINITY
}

/** Where a cue of a section ends; past the section's end, no cue of the section could begin. */
const reachOfCue = ({ at, length }: Cue, sectionLength: number): number =>
  at + length < sectionLength ? at + length : Number.POSITIVE_INFINITY

/** What is left of a cue outside of the spans, in order of time. */
function uncovered(cue: Cue, spans: readonly Span[]): Cue[] {
  let left = [cue]
  for (const [from, to] of spans) {
    left = left.flatMap(piece => {
      const end = piece.at + piece.length
      if (end <= from || piece.at >= to) return [piece]
      const before = piece.at < from ? [splitCue(piece, from - piece.at)[0]] : []
      const after = end > to ? [splitCue(piece, to - piece.at)[1]] : []
      return [...before, ...after]
    })
  }
  return left
}
