// Random shows for property tests: every motion, merge, gradient and fade, on overlapping cues and two tracks.

import { directions, motionKinds } from '@glowchart/shared/light/schema.ts'
import fc from 'fast-check'
import type { CueInput, ShowInput } from './small-show.ts'

const BAR = 3840
const BARS = 2

const hex = fc.integer({ min: 0, max: 0xffffff }).map(n => ({ hex: `#${n.toString(16).padStart(6, '0')}` }))
const colour = fc.oneof(hex, fc.constantFrom({ swatch: 'rust' }, { swatch: 'moss' }))
const share = fc.oneof(fc.constantFrom(0, 0.5, 1), fc.double({ min: 0, max: 1, noNaN: true }))

const colours = fc.oneof(
  fc.record({ along: fc.constant('none'), colour }),
  fc.record(
    {
      along: fc.constantFrom('part', 'time', 'motion'),
      stops: fc.array(fc.record({ at: share, colour }), { minLength: 2, maxLength: 4 }),
      length: fc.integer({ min: 1, max: 2 * BAR }),
    },
    { requiredKeys: ['along', 'stops'] },
  ),
)

const motion = fc.record({
  kind: fc.constantFrom(...motionKinds),
  rate: fc.oneof(
    fc.record({ ticks: fc.constantFrom(1, 37, 120, 240, 320, 960, 3840) }),
    fc.record({ hz: fc.double({ min: 0.01, max: 25, noNaN: true }) }),
  ),
  spread: fc.oneof(fc.constantFrom(0, 1, 2, 8), fc.double({ min: 0, max: 8, noNaN: true })),
  direction: fc.constantFrom(...directions),
  duty: share,
  shape: share,
  floor: fc.constantFrom(0, 0, 0.2, 1),
  by: fc.constantFrom('fixture', 'cell'),
  seed: fc.integer({ min: 0, max: 65535 }),
})

const fade = fc.record({
  length: fc.integer({ min: 0, max: BAR }),
  curve: fc.constantFrom('even', 'soft', 'early', 'late'),
  cut: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 500 })),
})

const level = fc.oneof(
  share,
  fc.array(fc.record({ at: fc.integer({ min: -100, max: BAR }), level: share }), {
    minLength: 1,
    maxLength: 5,
  }),
)

/** A cue of at least two ticks inside the section. */
const anyCue: fc.Arbitrary<CueInput> = fc
  .record({
    track: fc.constantFrom('t0', 't0', 't1'),
    at: fc.integer({ min: 0, max: BARS * BAR - 2 }),
    span: fc.oneof(fc.integer({ min: 2, max: 60 }), fc.integer({ min: 2, max: BARS * BAR })),
    origin: fc.oneof(fc.constant(0), fc.integer({ min: -BAR, max: BAR })),
    fadeIn: fc.option(fade, { nil: undefined }),
    fadeOut: fc.option(fade, { nil: undefined }),
    light: fc.oneof(
      fc.record({ level, colours, motion }),
      fc.record({ level, colours, motion }),
      fc.constant({ look: 'glow' }),
    ),
  })
  .map(({ span, at, light, fadeIn, fadeOut, ...rest }) => ({
    ...rest,
    at,
    length: Math.min(span, BARS * BAR - at),
    ...(fadeIn && { fadeIn }),
    ...(fadeOut && { fadeOut }),
    ...light,
  }))

/** A show of two bars, a copy of one bar, and a tempo that glides. */
export const anyShow: fc.Arbitrary<ShowInput> = fc
  .record({
    cues: fc.dictionary(fc.stringMatching(/^[a-z]{1,4}$/), anyCue, { minKeys: 1, maxKeys: 6 }),
    cyclic: fc.boolean(),
    fixtures: fc.integer({ min: 1, max: 6 }),
    cells: fc.integer({ min: 1, max: 3 }),
    merges: fc.tuple(
      fc.constantFrom('cover', 'highest', 'add', 'mask'),
      fc.constantFrom('cover', 'highest', 'add', 'mask'),
    ),
    glow: fc.record({ level, colours, motion }),
    glides: fc.boolean(),
  })
  .map(({ merges, glow, glides, ...rest }) => ({
    ...rest,
    bars: BARS,
    bpm: 140,
    tempo: glides ? [{ at: 480, bpm: 90, glide: 2 * BAR }] : [],
    tracks: merges.map(merge => ({ merge })),
    looks: { glow: { part: glow } },
    sections: {
      b: {
        name: 'B',
        bars: 1,
        cues: {},
        sameAs: { section: 'a', swatches: { rust: 'moss' }, trim: 0.7 },
      },
    },
  }))
