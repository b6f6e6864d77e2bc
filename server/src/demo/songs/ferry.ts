// Slow Ferry, Small Moon: a crossing in 6/8. Water, a moon, a foghorn; a vamp in mid-channel; then the lights of the quay.

import { cue, look, measures, section, song } from '../chart.ts'
import { every, light, only, QUARTER, rising, still, turning } from '../light.ts'

const meter = { beats: 6, unit: 8 } as const
const { bar, bars, beats } = measures(meter)
const BAR = 3 * QUARTER

/** The sign as a foghorn: slow in, slow out, far away. */
const foghorn = (level: number) => light(level, only('moon'), still)

export const ferry = song(
  {
    title: 'Slow Ferry, Small Moon',
    bpm: 93,
    meter,
    key: 'D minor',
    note: 'In two, dotted quarters. The sign is the foghorn.',
  },
  {
    intro: section(
      'Cast off',
      4,
      { note: 'Harmonium breathes twice.' },
      look('blackWater', bar(1), bars(5), { in: [bars(4), 'soft'] }),
    ),
    verse1: section(
      'Verse 1',
      16,
      { note: 'Brushes. Half the light you think.' },
      look('blackWater', bar(1), bars(16), { in: bars(1) }),
      cue('rings', bar(5), bars(12), { look: 'smallMoon' }, { in: [bars(4), 'soft'], out: bars(1) }),
      cue('letters', bar(8), bars(2), foghorn(0.5), {
        in: [bars(1), 'soft'],
        out: [bars(1), 'soft'],
        name: 'Foghorn',
      }),
      cue('letters', bar(15), bars(2), foghorn(0.5), {
        in: [bars(1), 'soft'],
        out: [bars(1), 'soft'],
        name: 'Foghorn',
      }),
    ),
    refrain1: section(
      'Refrain',
      8,
      { note: 'Everyone sings; nobody loudly.' },
      look('smallMoon', bar(1), bars(8), { in: beats(3) }),
      cue(
        'tubes',
        bar(1),
        bars(8),
        light(
          0.75,
          rising('harbour', 'tide', 'glass'),
          every(2 * BAR, 'sway', { duty: 0.4, shape: 1, floor: 0.2 }),
        ),
        { in: beats(3), out: bars(1) },
      ),
      cue(
        'foots',
        bar(1),
        bars(8),
        light(0.45, only('tide'), every(2 * BAR, 'answer', { duty: 0.5, shape: 1, floor: 0.3 })),
        { out: bars(1) },
      ),
    ),
    verse2: section('Verse 2', 16, {
      sameAs: { section: 'verse1', swatches: { harbour: 'plum', tide: 'heather' } },
      note: 'Mid-channel; the sky is a different blue.',
    }),
    refrain2: section('Refrain again', 8, {
      sameAs: { section: 'refrain1', swatches: { glass: 'ice' } },
      note: 'Colder. Breath shows.',
    }),
    vamp: section(
      'Engines idle',
      4,
      { vamp: true, note: 'Round and round till the captain nods. Pedal to leave.' },
      cue(
        'rings',
        bar(1),
        bars(4),
        light(0.7, only('moon'), every(2 * BAR, 'swell', { spread: 0.5, duty: 0.5, shape: 1, floor: 0.2 })),
      ),
      cue(
        'foots',
        bar(1),
        bars(4),
        light(0.4, only('harbour'), every(4 * BAR, 'sway', { duty: 0.6, shape: 1, floor: 0.3 })),
      ),
      cue(
        'bulbs',
        bar(1),
        bars(4),
        light(0.45, only('ice'), every(BAR, 'scatter', { duty: 0.25, shape: 0.9, seed: 89 })),
      ),
    ),
    landing: section(
      'The quay',
      16,
      { note: 'Land. Open up, and wave.' },
      look('landingLights', bar(1), bars(16), { in: [bars(2), 'soft'] }, ['bulbs', 'foots']),
      look('landingLights', bar(1), bars(16), { in: [bars(4), 'soft'], out: bars(2) }, ['tubes']),
      look('landingLights', bar(5), bars(12), { in: bars(2), out: bars(1) }, ['letters']),
      cue(
        'rings',
        bar(1),
        bars(16),
        light(
          0.9,
          turning('moon', 'brass', 'brass'),
          every(BAR, 'pulse', { spread: 0, duty: 1, shape: 0.7, floor: 0.3 }),
        ),
        { in: bars(1), out: bars(2) },
      ),
    ),
    out: section(
      'Made fast',
      8,
      { note: 'Ropes. One last foghorn, and the moon goes in.' },
      look('landingLights', bar(1), bars(3), { out: [bars(3), 'soft'] }, ['foots', 'bulbs']),
      cue('rings', bar(1), bars(7), { look: 'smallMoon' }, { in: bars(1), out: [bars(4), 'late'] }),
      cue('letters', bar(4), bars(4), foghorn(0.6), {
        in: [bars(1), 'soft'],
        out: [bars(3), 'soft'],
        name: 'Foghorn',
      }),
    ),
  },
)
