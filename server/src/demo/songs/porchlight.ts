// Porchlight Arithmetic: a pop song in 4/4. Three choruses from one, each in a light of its own.

import { cue, look, measures, section, song } from '../chart.ts'
import { EIGHTH, every, HALF, light, only, QUARTER, rising, still, turning, WHOLE } from '../light.ts'

const meter = { beats: 4, unit: 4 } as const
const { bar, bars, beats } = measures(meter)

const oh = (duty: number) => every(2 * WHOLE, 'cascade', { spread: 0.75, duty, shape: 0.2 })

export const porchlight = song(
  {
    title: 'Porchlight Arithmetic',
    bpm: 112,
    meter,
    key: 'D major',
    note: 'Capo 2. The count is in the guitar, not in the drums.',
  },
  {
    intro: section(
      'Intro',
      8,
      { note: 'Guitar alone. One porch after the other; nobody touches the pedals.' },
      cue(
        'bulbs',
        bar(1),
        bars(3) + beats(2),
        light(0.74, only('porch'), every(6 * WHOLE, 'chase', { spread: 0.9, duty: 0.48, shape: 0.15 })),
        { name: 'Porch by porch' },
      ),
      look('porchLamps', bar(3), bars(6), {}, ['bulbs']),
      look('porchLamps', bar(5), bars(4), { in: [bars(3), 'soft'], out: bars(1) }, ['foots']),
    ),
    verse1: section(
      'Verse 1',
      16,
      { note: 'Sing it like a phone number.' },
      look('longDivision', bar(1), bars(16), { in: [bars(2), 'soft'] }, ['tubes']),
      look('longDivision', bar(1), bars(16), { out: beats(1) }, ['bulbs']),
      cue(
        'rings',
        bar(9),
        bars(8),
        light(0.45, only('dusk'), every(2 * WHOLE, 'swell', { spread: 0.5, duty: 0.5, shape: 1 })),
        {
          in: bars(2),
          out: bars(1),
        },
      ),
      cue('letters', bar(15), bars(2), light(0.8, only('porch'), oh(0.95)), {
        name: 'Oh, oh, oh',
        out: beats(1),
      }),
    ),
    chorus1: section(
      'Chorus 1',
      16,
      { note: 'Everybody on the Ohs. Dead stop on the last bar, only the sign is left.' },
      cue('tubes', bar(0, 3), beats(2), light(0.9, turning('dusk', 'ember'), still), {
        in: [beats(2), 'late'],
        name: 'Pick-up',
      }),
      look('addsUp', bar(1), bars(8)),
      look('carryTheOne', bar(9), bars(7)),
      cue(
        'letters',
        bar(16),
        bars(1),
        light(1, rising('ember', 'cream'), every(WHOLE, 'pulse', { spread: 0, duty: 0.95, shape: 0.45 })),
        { name: 'Stop' },
      ),
    ),
    verse2: section(
      'Verse 2',
      16,
      { note: 'Bass comes in late on purpose.' },
      look('porchLamps', bar(1), bars(16), { in: beats(2), out: beats(1) }, ['bulbs']),
      cue(
        'tubes',
        bar(1),
        bars(8),
        light(
          0.5,
          rising('harbour', 'tide'),
          every(4 * WHOLE, 'drift', { spread: 0.8, duty: 0.5, shape: 0.9, floor: 0.2, seed: 9 }),
        ),
        { in: [bars(3), 'soft'] },
      ),
      look('longDivision', bar(8), bars(9), { in: bars(1) }, ['tubes']),
      cue(
        'rings',
        bar(5),
        bars(12),
        light(0.5, rising('dusk', 'tide'), every(WHOLE, 'answer', { duty: 0.4, shape: 0.8 })),
        { in: bars(2), out: bars(1) },
      ),
      cue('letters', bar(15), bars(2), light(0.8, only('porch'), oh(0.95)), {
        name: 'Oh, oh, oh',
        out: beats(1),
      }),
    ),
    chorus2: section('Chorus 2', 16, {
      sameAs: { section: 'chorus1', swatches: { ember: 'fuchsia', peach: 'rose' } },
      note: 'Same again, pinker.',
    }),
    bridge: section(
      'Bridge',
      8,
      { note: 'Nothing warm in here. Drums on the rims, then the long roll.' },
      look('chalkDust', bar(1), bars(8), { in: [bars(1), 'soft'], out: beats(1) }, ['bulbs']),
      look('chalkDust', bar(1), bars(5), { in: bars(1) }, ['tubes']),
      cue(
        'tubes',
        bar(5),
        bars(4) - EIGHTH,
        light(
          [
            { at: 0, level: 0.4 },
            { at: bars(3), level: 0.7 },
            { at: bars(4), level: 1 },
          ],
          turning('tide', 'salt', 'cream'),
          every(QUARTER, 'pulse', { spread: 0, duty: 1, shape: 0.75, floor: 0.35 }),
        ),
        { name: 'The roll' },
      ),
      cue('foots', bar(7), bars(2) - EIGHTH, light(0.6, only('salt'), still), { in: [bars(2), 'late'] }),
    ),
    chorus3: section(
      'Last chorus',
      16,
      {
        sameAs: {
          section: 'chorus1',
          swatches: { ember: 'plum', peach: 'rose', rose: 'brass' },
          freed: ['letters', 'sparks'],
        },
        note: 'No stop this time: straight through. Bow on the bass.',
      },
      look('addsUp', bar(1), bars(8), {}, ['letters']),
      look('carryTheOne', bar(9), bars(8), { out: [bars(1), 'soft'] }, ['letters']),
      cue(
        'sparks',
        bar(1),
        bars(15),
        light(0.8, only('fuchsia'), every(HALF, 'scatter', { duty: 0.35, shape: 0.8, seed: 4 })),
        { in: bars(4) },
      ),
    ),
    out: section(
      'Out',
      8,
      { note: 'Last porch stays till the ring-out is gone.' },
      look('porchLamps', bar(1), bars(8), { out: [bars(5), 'early'] }, ['bulbs']),
      look('porchLamps', bar(1), bars(3), { out: [bars(3), 'soft'] }, ['foots']),
      cue('letters', bar(1), bars(2), light(0.5, only('porch'), still), { out: [bars(2), 'early'] }),
    ),
  },
  { sparks: { part: 'tubes', merge: 'highest' } },
)
