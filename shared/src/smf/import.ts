// A song from a Standard MIDI File: its bars, sections from its markers, its tempo, and cues from its notes.

import { CodedError } from '../errors.ts'
import { lightSchema } from '../light/schema.ts'
import type { Cue, Section, Song, TempoMark, Track } from '../show/song.ts'
import { type Ticks, ticks } from '../time/units.ts'
import { type Bars, barsOf, songTick } from './bars.ts'
import type { SmfSong } from './read.ts'
import { scoresOf } from './score.ts'
import { type Stretch, stretchesOf } from './sections.ts'
import { type SongTempo, temposOf } from './tempos.ts'
import { nameOf } from './text.ts'

const MAX_CUES = 20_000

/** Which notes become cues of a cue track of `part`. `track` counts from 0; no `channel` or `key`: all of them. */
export interface NoteChoice {
  readonly track: number
  readonly part: string
  /** 1…16. */
  readonly channel?: number | undefined
  /** 0…127; picks one drum out of a drum track. */
  readonly key?: number | undefined
}

interface ImportOptions {
  readonly title: string
  /** A new id at every call, unlike any before. */
  readonly ids: () => string
  /** One cue track each, in this order; left out, the song has none. */
  readonly cues?: readonly NoteChoice[] | undefined
  /** Its notes become the score too, so that the song can be heard. */
  readonly score?: boolean | undefined
  /** Names the file in errors. */
  readonly where: string
}

/**
 * Makes a song that passes validation in any show that has the parts named.
 *
 * Ticks go to 960 a quarter note, each to the nearest. A marker opens a section at the bar line nearest to it (markers
 * on one bar line share a section, the names joined); bars before the first marker are "Start". Without markers every 16
 * bars make a section. A section too long for the document (999 bars, 256 tempo marks, 64 meters) is cut at a bar line.
 * The tempo is steps, held to 20…400 BPM. A note is a cue, white and steady, as long as the note, its level the
 * velocity over 127; one that begins on the song's last tick is left out. With `score`, the notes are each section's score,
 * their voices by channel and program (`score.ts`). What was changed or left out stands in the song's note.
 * @throws CodedError `smf.meter`, `smf.tooLong`, `smf.tooMany`, `smf.track`; a part is not looked for
 */
export function songFromSmf(
  smf: SmfSong,
  { title, ids, cues = [], score = false, where }: ImportOptions,
): Song {
  const bars = barsOf(smf, where)
  const tempo = temposOf(smf, bars.end)
  const { stretches, said } = stretchesOf(smf, bars, tempo.marks, where)
  const sections = stretches.map(stretch => ({
    id: ids(),
    stretch,
    section: sectionOf(stretch, bars, tempo),
  }))
  if (score) {
    for (const [i, phrases] of scoresOf(smf, stretches, bars.end).entries()) {
      if (phrases.length > 0) sections[i]!.section.score = phrases
    }
  }
  const tracks: Record<string, Track> = {}
  const noted = cues.map(choice => ({ track: ids(), choice, notes: chosen(smf, choice, where) }))
  const total = noted.reduce((sum, { notes }) => sum + notes.length, 0)
  if (total > MAX_CUES) {
    throw new CodedError('smf.tooMany', `${total} notes were chosen; ${MAX_CUES} cues are the most`, where)
  }
  for (const { track, choice, notes } of noted) {
    tracks[track] = { part: choice.part, merge: 'cover', muted: false }
    let into = 0
    for (const note of notes) {
      const at = songTick(smf, note.at)
      if (at >= bars.end) break
      while (into + 1 < sections.length && sections[into + 1]!.stretch.at <= at) into++
      const { stretch, section } = sections[into]!
      const length = Math.max(1, songTick(smf, note.at + note.length) - at)
      section.cues[ids()] = cueOf(track, ticks(at - stretch.at), ticks(length), note.velocity)
    }
  }
  const note = [...timeCodeSaid(smf), ...lateSaid(bars), ...tempo.said, ...said].join('\n').slice(0, 2000)
  return {
    title: nameOf(title, 'Untitled'),
    bpm: tempo.first,
    meter: bars.bars[0]!.meter,
    sections: Object.fromEntries(sections.map(({ id, section }) => [id, section])),
    sectionOrder: sections.map(({ id }) => id),
    tracks,
    trackOrder: noted.map(({ track }) => track),
    ...(note === '' ? {} : { note }),
  }
}

function sectionOf(stretch: Stretch, { bars }: Bars, tempo: SongTempo): Section {
  const inside = bars.slice(stretch.bar, stretch.bar + stretch.bars)
  const meters = inside.flatMap(({ meter }, bar) => {
    const before = bars[Math.max(0, stretch.bar + bar - 1)]!.meter
    return meter.beats === before.beats && meter.unit === before.unit ? [] : [{ bar, meter }]
  })
  const marks = tempo.marks.slice(stretch.firstMark, stretch.firstMark + stretch.marks)
  return {
    name: stretch.name,
    bars: stretch.bars,
    meters,
    tempo: marks.map(({ at, bpm }): TempoMark => ({ at: ticks(at - stretch.at), bpm })),
    vamp: false,
    cues: {},
  }
}

function chosen(smf: SmfSong, { track, channel, key }: NoteChoice, where: string) {
  const found = smf.tracks[track]
  if (!found) {
    throw new CodedError('smf.track', `there is no track ${track}; the file has ${smf.tracks.length}`, where)
  }
  return found.notes.filter(
    note => (channel ?? note.channel) === note.channel && (key ?? note.key) === note.key,
  )
}

/** White and steady; every cue sets its own level. */
const plain = lightSchema.parse({
  level: 1,
  colours: { along: 'none', colour: { hex: '#ffffff' } },
  motion: { kind: 'sustain' },
})

const cueOf = (track: string, at: Ticks, length: Ticks, velocity: number): Cue => ({
  track,
  at,
  length,
  origin: ticks(0),
  light: { ...plain, level: velocity / 127 },
})

const timeCodeSaid = (smf: SmfSong): string[] =>
  smf.timeCode ? ['The file counts time code and has no tempo: its time is laid out at 120 BPM.'] : []

function lateSaid({ late }: Bars): string[] {
  if (late.length === 0) return []
  const rest = late.length === 1 ? '' : ` (and ${late.length - 1} more)`
  return [`A time signature inside bar ${late[0]! + 1}${rest} begins with the bar after.`]
}
