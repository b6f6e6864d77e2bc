// Salt for the Piano: a slow waltz that warms from sea glass to roses, and slows into its last note.

import { cue, look, measures, section, song } from '../chart.ts'
import { across, every, light, only, QUARTER, rising, still, turning } from '../light.ts'

const meter = { beats: 3, unit: 4 } as const
const { bar, bars, beats } = measures(meter)
const BAR = 3 * QUARTER

export const salt = song(
  {
    title: 'Salt for the Piano',
    bpm: 78,
    meter,
    key: 'A minor',
    note: 'Piano and musical saw. Nobody counts in; watch the left hand.',
  },
  {
    intro: section(
      'Piano alone',
      8,
      { note: 'Dark till the first chord has rung. Four bulbs, no more.' },
      look('saltAir', bar(2), bars(7), { in: [bars(2), 'soft'] }, ['bulbs']),
    ),
    verse: section(
      'Verse',
      16,
      { note: 'Saw comes in at the half. Keep the floor dark.' },
      look('saltAir', bar(1), bars(10), { out: [bars(6), 'early'] }, ['bulbs']),
      look('saltAir', bar(1), bars(16), { in: [bars(4), 'soft'], out: bars(1) }, ['tubes']),
      cue(
        'rings',
        bar(9),
        bars(8),
        light(0.5, only('glass'), every(2 * BAR, 'swell', { spread: 0.5, duty: 0.45, shape: 1 })),
        { in: bars(2), out: bars(1) },
      ),
    ),
    refrain: section(
      'Refrain',
      16,
      { note: 'One, and leave two and three alone.' },
      cue(
        'bulbs',
        bar(1),
        bars(16),
        light(
          0.7,
          across('salt', 'glass'),
          every(QUARTER, 'scatter', { spread: 0, duty: 0.25, shape: 0.9, seed: 17 }),
        ),
      ),
      cue(
        'tubes',
        bar(1),
        bars(17),
        light(
          0.8,
          rising('harbour', 'tide', 'glass'),
          every(2 * BAR, 'ring', { spread: 0.6, duty: 0.7, shape: 0.9, floor: 0.12 }),
        ),
        { in: bars(1) },
      ),
      cue(
        'rings',
        bar(1),
        bars(16),
        light(0.75, only('ice'), every(BAR, 'pulse', { spread: 0, duty: 0.9, shape: 0.8, floor: 0.1 })),
        { out: bars(1) },
      ),
      cue(
        'letters',
        bar(9),
        bars(8),
        light(0.55, only('salt'), every(4 * BAR, 'sway', { duty: 0.5, shape: 1, floor: 0.05 })),
        { in: [bars(4), 'late'], out: bars(2) },
      ),
    ),
    verse2: section('Verse, again', 16, {
      sameAs: { section: 'verse', swatches: { harbour: 'plum', ice: 'rose', glass: 'heather' }, trim: 0.9 },
      note: 'The same light with evening in it.',
    }),
    lift: section(
      'Lid up',
      16,
      { note: 'The only loud page. Look up from the keys.' },
      cue('foots', bar(0), bars(1), light(0.6, turning('plum', 'peach'), still), {
        in: [bars(1), 'late'],
        name: 'Breath',
      }),
      look('lidUp', bar(1), bars(16), { out: bars(1) }, ['letters', 'rings', 'foots']),
      look('lidUp', bar(1), bars(16), {}, ['bulbs', 'tubes']),
      // The cascade is veiled at first, and laid bare bar by bar.
      cue('veil', bar(1), bars(8), light(0.5, only('moon'), still), { out: [bars(7), 'soft'], name: 'Veil' }),
      cue(
        'shine',
        bar(9),
        bars(8),
        light(0.7, only('brass'), every(BAR, 'scatter', { duty: 0.4, shape: 1, seed: 40 })),
        { in: bars(2), out: bars(2), name: 'Gilt' },
      ),
    ),
    coda: section(
      'Coda',
      10,
      {
        tempo: [{ at: bars(4), bpm: 54, glide: bars(6) }],
        note: 'Slower and slower. Last note is one low A and one ring.',
      },
      cue(
        'bulbs',
        bar(1),
        bars(6),
        light(0.6, only('moon'), every(2 * BAR, 'filament', { duty: 0.5, shape: 0.8, seed: 5 })),
        { out: [bars(5), 'soft'] },
      ),
      cue(
        'tubes',
        bar(1),
        bars(5),
        light(0.45, rising('plum', 'rose'), every(3 * BAR, 'swell', { spread: 0.8, duty: 0.4, shape: 1 })),
        { out: [bars(3), 'soft'] },
      ),
      cue('letters', bar(3), bars(4), light(0.4, only('rose'), still), {
        in: bars(1),
        out: [bars(3), 'late'],
      }),
      cue('rings', bar(2), bars(9), light(0.6, turning('rose', 'moon', 'moon'), still), {
        in: bars(2),
        out: [bars(4) + beats(2), 'late'],
      }),
    ),
  },
  { veil: { part: 'tubes', merge: 'mask' }, shine: { part: 'tubes', merge: 'add' } },
)
