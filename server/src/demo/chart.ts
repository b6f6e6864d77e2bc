// How the demo writes songs: cues and looks in bars and beats, sections, tracks.

import type { Curve, cueSchema, Meter, sectionSchema, songSchema } from '@glowchart/shared/show/song.ts'
import { WHOLE } from './light.ts'
import { type LookId, looks } from './looks.ts'
import type { PartId } from './parts.ts'
import type { Written } from './written.ts'

type CueText = Written<typeof cueSchema>
export type SectionText = Written<typeof sectionSchema>
export type SongText = Written<typeof songSchema>

interface Fades {
  readonly in?: number | readonly [length: number, curve: Curve]
  readonly out?: number | readonly [length: number, curve: Curve]
  readonly name?: string
  /** Ticks from the cue's start to where its motion begins. */
  readonly origin?: number
}

/** A cue on the track that a part plays on, or on another of its tracks. */
export const cue = (
  track: string,
  at: number,
  length: number,
  own: CueText['light'],
  fades: Fades = {},
): CueText[] => [placed(track, at, length, own, fades)]

/** A look on the chart: one linked cue on the own track of every part that it has something for, or of some. */
export const look = (
  id: LookId,
  at: number,
  length: number,
  fades: Fades = {},
  parts?: PartId[],
): CueText[] =>
  (parts ?? Object.keys(looks[id].parts)).map(part => placed(part, at, length, { look: id }, fades))

function placed(track: string, at: number, length: number, source: CueText['light'], fades: Fades): CueText {
  const { name, origin } = fades
  return {
    track,
    at,
    length,
    ...(name !== undefined && { name }),
    ...(fades.in !== undefined && { fadeIn: fade(fades.in) }),
    ...(fades.out !== undefined && { fadeOut: fade(fades.out) }),
    ...(origin !== undefined && { origin }),
    light: source,
  }
}

const fade = (value: number | readonly [number, Curve]) =>
  typeof value === 'number' ? { length: value } : { length: value[0], curve: value[1] }

/** Places and lengths in one meter: `bar(3)` is where a section's third bar starts, `bar(3, 2)` its second beat. */
export function measures({ beats, unit }: Meter) {
  const beat = WHOLE / unit
  return {
    bar: (n: number, at = 1): number => ((n - 1) * beats + at - 1) * beat,
    bars: (n: number): number => n * beats * beat,
    beats: (n: number): number => n * beat,
  }
}

/** A section; its cues are numbered track by track, as they are written. */
export function section(
  name: string,
  bars: number,
  more: Omit<SectionText, 'name' | 'bars' | 'cues'>,
  ...cues: CueText[][]
): SectionText {
  const numbers = new Map<string, number>()
  const numbered = cues.flat().map(c => {
    const n = (numbers.get(c.track) ?? 0) + 1
    numbers.set(c.track, n)
    return [`${c.track}-${n}`, c] as const
  })
  return { name, bars, ...more, cues: Object.fromEntries(numbered) }
}

/**
 * A song whose sections play in the order in which they are written. Every part has a track of its own. Those of
 * parts that others stand in for come first, so that a stand-in's own light lies over what it takes on.
 */
export function song(
  head: Pick<SongText, 'title' | 'bpm' | 'meter' | 'key' | 'note'>,
  sections: Record<string, SectionText>,
  extraTracks: SongText['tracks'] = {},
): SongText {
  const own: Record<PartId, { part: PartId }> = {
    letters: { part: 'letters' },
    rings: { part: 'rings' },
    bulbs: { part: 'bulbs' },
    foots: { part: 'foots' },
    tubes: { part: 'tubes' },
  }
  const tracks = { ...own, ...extraTracks }
  return { ...head, sections, sectionOrder: Object.keys(sections), tracks, trackOrder: Object.keys(tracks) }
}
