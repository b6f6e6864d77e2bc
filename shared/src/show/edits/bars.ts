// Edits of a section's bars, meters and tempo.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { barStart } from '../../time/meter.ts'
import { type Timeline, timelineOf } from '../../time/timeline.ts'
import { id } from '../fields.ts'
import type { Show } from '../schema.ts'
import { type Cue, type Section, type Song, sectionSchema } from '../song.ts'
import { inSong, requireOwn, sectionOf, songOf, withFields, withSection } from './change.ts'
import { showEdit } from './edit.ts'
import { scoreWithin, scoreWithoutTime, scoreWithTime } from './phrases.ts'
import {
  cueWithoutTime,
  cueWithTime,
  metersWithBars,
  metersWithoutBars,
  tempoWithoutTime,
  tempoWithTime,
} from './stretch.ts'

const section = { song: id, section: id }
const count = z.int().min(1).max(998)
const bar = z.int().min(0).max(998)

export const barEdits = {
  /** Bars added or taken away at the end; cues that start in those taken away go. Copies of equal length follow. */
  setSectionBars: showEdit(
    { ...section, bars: sectionSchema.shape.bars },
    (args, show) => `${nameOf(show, args)}: ${args.bars} bars`,
    (show, args) =>
      inSong(show, args.song, song => {
        let out = song
        for (const id of followers(song, args.section)) {
          const old = sectionOf(song, id)
          const length = barTick(
            timelineOf(withSection(song, id, { ...old, bars: args.bars })),
            id,
            args.bars,
          )
          out = withSection(out, id, within({ ...old, bars: args.bars }, args.bars, length))
        }
        return out
      }),
  ),

  /** Bars put in before a 0-based bar of the section (its number of bars: at the end). */
  insertBars: showEdit(
    { ...section, bar, count },
    (args, show) => `Insert ${bars(args.count)} into ${nameOf(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        requireOwn(song, sectionOf(song, args.section))
        requireBars(song, args.section, args.bar, 0)
        const before = timelineOf(song)
        const ids = followers(song, args.section)
        let out = song
        for (const id of ids) {
          const old = sectionOf(song, id)
          const meters = metersWithBars(old.meters, args.bar, args.count)
          out = withSection(out, id, { ...old, meters, bars: old.bars + args.count })
        }
        const after = timelineOf(out)
        for (const id of ids) {
          const old = sectionOf(song, id)
          const at = barTick(before, id, args.bar)
          const ticks = barTick(after, id, old.bars + args.count) - barTick(before, id, old.bars)
          const cues = changed(old.cues, cue => cueWithTime(cue, at, ticks))
          const tempo = tempoWithTime(old.tempo, at, ticks)
          const score = scoreWithTime(old.score, at, ticks)
          out = withSection(out, id, withFields(sectionOf(out, id), { cues, tempo, score }))
        }
        return out
      }),
  ),

  removeBars: showEdit(
    { ...section, bar, count },
    (args, show) => `Remove ${bars(args.count)} from ${nameOf(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        requireOwn(song, sectionOf(song, args.section))
        requireBars(song, args.section, args.bar, args.count)
        const before = timelineOf(song)
        let out = song
        for (const id of followers(song, args.section)) {
          const old = sectionOf(song, id)
          const [from, to] = [barTick(before, id, args.bar), barTick(before, id, args.bar + args.count)]
          const left = withFields(old, {
            bars: old.bars - args.count,
            meters: metersWithoutBars(old.meters, args.bar, args.count),
            tempo: tempoWithoutTime(old.tempo, from, to),
            cues: changed(old.cues, cue => cueWithoutTime(cue, from, to)),
            score: scoreWithoutTime(old.score, from, to),
          })
          const length = barTick(before, id, old.bars) - (to - from)
          out = withSection(out, id, within(left, left.bars, length))
        }
        return out
      }),
  ),

  /** Takes the place of the section's meter changes. Cues and tempo marks keep their ticks. */
  setSectionMeters: showEdit(
    { ...section, meters: sectionSchema.shape.meters.unwrap() },
    (args, show) => `Meter of ${nameOf(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const old = sectionOf(song, args.section)
        requireOwn(song, old)
        const meters = args.meters.toSorted((a, b) => a.bar - b.bar)
        for (const m of meters) requireBars(song, args.section, m.bar, 1)
        return withSection(song, args.section, { ...old, meters })
      }),
  ),

  /** Takes the place of the section's tempo marks. */
  setTempoMarks: showEdit(
    { ...section, tempo: sectionSchema.shape.tempo.unwrap() },
    (args, show) => `Tempo of ${nameOf(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const old = sectionOf(song, args.section)
        requireOwn(song, old)
        return withSection(song, args.section, { ...old, tempo: args.tempo.toSorted((a, b) => a.at - b.at) })
      }),
  ),
}

const bars = (count: number): string => (count === 1 ? 'a bar' : `${count} bars`)

const nameOf = (show: Show, args: { song: string; section: string }): string =>
  sectionOf(songOf(show, args.song), args.section).name

/** The section, and the copies of it that are as long as it is: they stay so. */
function followers(song: Song, id: string): string[] {
  const { bars } = sectionOf(song, id)
  return song.sectionOrder.filter(other => {
    const section = song.sections[other]!
    return other === id || (section.sameAs?.section === id && section.bars === bars)
  })
}

/** Ticks from the section's start to its 0-based bar. */
function barTick(timeline: Timeline, id: string, bar: number): number {
  const span = timeline.sections.find(s => s.id === id)!
  return barStart(timeline.meters, span.firstBar + bar) - span.start
}

/** What starts inside a section of this length. */
const within = (section: Section, bars: number, length: number): Section =>
  withFields(section, {
    cues: changed(section.cues, cue => (cue.at < length ? cue : null)),
    meters: section.meters.filter(m => m.bar < bars),
    tempo: section.tempo.filter(mark => mark.at < length),
    score: scoreWithin(section.score, length),
  })

function changed(cues: Section['cues'], change: (cue: Cue) => Cue | null): Section['cues'] {
  return Object.fromEntries(
    Object.entries(cues).flatMap(([id, cue]) => {
      const next = change(cue)
      return next ? [[id, next]] : []
    }),
  )
}

/** @throws CodedError `edit.outside` unless the bars are in the section and do not make up all of it */
function requireBars(song: Song, id: string, bar: number, count: number): void {
  const section = sectionOf(song, id)
  if (bar + count <= section.bars && count < Math.max(section.bars, 2)) return
  const says = `the section has ${section.bars} bars; ${count} from bar ${bar + 1} on is not possible`
  throw new CodedError('edit.outside', says, `${song.title}: ${section.name}`)
}
