// Songs for the tests in time: the document's own schema fills in what a test does not care about.
import { type Song, songSchema } from '@glowchart/shared/show/song.ts'

/** A cue as a test writes it: track, at and length in ticks; anything else over a plain steady light. */
export function cue(track: string, at: number, length: number, more: object = {}): object {
  const light = {
    level: 1,
    colours: { along: 'none', colour: { hex: '#ffffff' } },
    motion: { kind: 'sustain' },
  }
  return { track, at, length, light, ...more }
}

/** Sections in the order of their keys; 120 BPM in 4/4 unless said. */
export function song(sections: Record<string, object>, more: object = {}): Song {
  const whole = Object.fromEntries(
    Object.entries(sections).map(([id, s]) => [id, { name: id, cues: {}, ...s }]),
  )
  return songSchema.parse({
    title: 'Gravel Umbrella',
    bpm: 120,
    meter: { beats: 4, unit: 4 },
    sections: whole,
    sectionOrder: Object.keys(sections),
    tracks: {},
    trackOrder: [],
    ...more,
  })
}
