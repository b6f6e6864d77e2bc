// A song in the show document: sections in order, cue tracks, and the cues inside each section.

import { z } from 'zod'
import { lightSchema } from '../light/schema.ts'
import { id, length, name, note, share, span, ticks } from './fields.ts'

/** A meter such as 7/8. */
export const meterSchema = z.object({
  beats: z.int().min(1).max(64),
  unit: z.union([z.literal(1), z.literal(2), z.literal(4), z.literal(8), z.literal(16), z.literal(32)]),
})
export type Meter = z.infer<typeof meterSchema>

/** Quarter notes a minute. */
export const bpm = z.number().min(20).max(400)

/**
 * A tempo mark inside a section, in ticks from its start; each at a place of its own, but for a glide from a step. `glide`: the tempo moves evenly in beats from the tempo
 * before to `bpm`, arriving after `glide` ticks; left out, it steps.
 */
export const tempoMarkSchema = z.object({ at: span, bpm, glide: length.optional() })
export type TempoMark = z.infer<typeof tempoMarkSchema>

const curve = z.enum(['even', 'soft', 'early', 'late'])
export type Curve = z.infer<typeof curve>

/**
 * A fade of `length` ticks. `cut` of them lie outside the cue (before its start, or after its end): what a split
 * leaves, so that both halves go on as one.
 */
const fade = z.object({ length: span, curve: curve.default('even'), cut: span.default(0 as never) })
export type Fade = z.infer<typeof fade>

/** A cue: a span on the chart. `at` is in ticks from its section's start, at most one bar before it. */
export const cueSchema = z.object({
  track: id,
  at: ticks,
  length,
  name: z.string().max(60).optional(),
  fadeIn: fade.optional(),
  fadeOut: fade.optional(),
  /** Where its motion and gradients begin, in ticks from `at`; a split keeps it. */
  origin: ticks.default(0 as never),
  /**
   * From a look (this track's part in it), or its own. `span`: ticks that a gradient over time takes where the look does
   * not say; left out, the cue's length. A split keeps it.
   */
  light: z.union([z.object({ look: id, span: length.optional() }), lightSchema]),
})
export type Cue = z.infer<typeof cueSchema>

export const merges = ['cover', 'highest', 'add', 'mask'] as const
/** A cue track: belongs to a part, merges over the tracks above it. */
export const trackSchema = z.object({
  part: id,
  merge: z.enum(merges).default('cover'),
  muted: z.boolean().default(false),
})
export type Track = z.infer<typeof trackSchema>

/** The players of a song's score, each a synthesiser of the page. */
export const voices = ['drums', 'bass', 'chords', 'lead'] as const
export type Voice = (typeof voices)[number]

/** A note of a phrase: ticks from the start of its pattern, length in ticks, MIDI key 0–127, velocity 1–127. */
const scoreNote = z.tuple([span, length, z.int().min(0).max(127), z.int().min(1).max(127)])

/**
 * Music that a section brings for listening while its light is written: a pattern of notes that repeats every `every`
 * ticks over the phrase's span. `at` is in ticks from the section's start; the first pattern begins `origin` ticks
 * from `at` (zero or less: a phrase cut in two goes on in its pattern). Drums take the General MIDI percussion keys.
 */
export const phraseSchema = z.object({
  voice: z.enum(voices),
  at: span,
  length,
  every: length,
  origin: ticks.default(0 as never),
  notes: z.array(scoreNote).max(4096),
})
export type Phrase = z.infer<typeof phraseSchema>

/** A recording that goes with a song, by the name of its file in the data folder's `audio` (its SHA-256). */
export const audioSchema = z.object({
  file: z.string().regex(/^[0-9a-f]{64}\.(wav|mp3|flac|ogg)$/),
  /** What the file was called. */
  name,
  /** Length, s. */
  seconds: z
    .number()
    .min(0.01)
    .max(24 * 3600),
  /** Where in the file the song's first bar begins, s; negative: the recording starts after it. */
  start: z
    .number()
    .min(-3600)
    .max(24 * 3600)
    .default(0),
  /** Loudness on the page, 0…1. */
  level: share.default(1),
})
export type Audio = z.infer<typeof audioSchema>

export const sectionSchema = z.object({
  name,
  /** The letter in the rehearsal mark; left out, given in order. */
  mark: z.string().min(1).max(4).optional(),
  bars: z.int().min(1).max(999),
  /** Meter changes by 0-based bar of the section; each holds until the next, over section ends. */
  meters: z
    .array(z.object({ bar: z.int().min(0).max(998), meter: meterSchema }))
    .max(64)
    .default([]),
  tempo: z.array(tempoMarkSchema).max(256).default([]),
  /** Repeats until released. */
  vamp: z.boolean().default(false),
  /** Takes cues, meters and tempo from another section of this song. */
  sameAs: z
    .object({
      section: id,
      /** Swatches replaced in this copy: from → to. */
      swatches: z.record(id, id).default({}),
      /** Factor on every level of this copy. */
      trim: share.default(1),
      /** Cue tracks freed from the link: this section's own cues stand on them. */
      freed: z.array(id).default([]),
    })
    .optional(),
  cues: z.record(id, cueSchema),
  /** A copy plays its source's. */
  score: z.array(phraseSchema).max(256).optional(),
  note: note.optional(),
})
export type Section = z.infer<typeof sectionSchema>

export const songSchema = z.object({
  title: name,
  /** Tempo and meter before any mark. */
  bpm,
  meter: meterSchema,
  sections: z.record(id, sectionSchema),
  sectionOrder: z.array(id),
  tracks: z.record(id, trackSchema),
  /** The musical key as the band says it, such as "A minor"; for reading alone. */
  key: z.string().min(1).max(24).optional(),
  /** Top to bottom; a track merges over those above it on its part. */
  trackOrder: z.array(id),
  /** Played without a click: every section repeats until a pedal or a key steps on to the next. */
  stepped: z.boolean().optional(),
  audio: audioSchema.optional(),
  note: note.optional(),
})
export type Song = z.infer<typeof songSchema>
