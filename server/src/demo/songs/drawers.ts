// Seven Drawers Down: a run in 7/8, two and two and three, that speeds up into every chorus and once slows to a halt.

import { cue, look, measures, section, song } from '../chart.ts'
import { EIGHTH, every, light, only, QUARTER, rising, still, turning } from '../light.ts'

const meter = { beats: 7, unit: 8 } as const
const { bar, bars, beats } = measures(meter)
const BAR = 7 * EIGHTH

const accent = (floor: number) => every(BAR, 'pulse', { spread: 0, duty: 0.32, shape: 0.6, floor })

export const drawers = song(
  {
    title: 'Seven Drawers Down',
    bpm: 138,
    meter,
    key: 'F sharp minor',
    note: 'Two and two and three. If lost, listen to the foots.',
  },
  {
    intro: section(
      'Riff',
      8,
      { note: 'Bass and floor tom. Foots have one, bulbs have three, rings have five.' },
      cue('foots', bar(1), bars(8), light(0.7, only('fuchsia'), accent(0))),
      cue('bulbs', bar(3), bars(6), light(0.7, only('salt'), accent(0)), { origin: beats(2) }),
      cue('rings', bar(5), bars(4), light(0.8, only('fuchsia'), accent(0)), { origin: beats(4) }),
    ),
    verse1: section(
      'Verse 1',
      16,
      { note: 'Say it, do not sing it.' },
      look('sevenDrawers', bar(1), bars(16), { in: beats(2) }, ['tubes']),
      cue('rings', bar(1), bars(16), { look: 'sevenDrawers' }, { origin: beats(4) }),
      cue('bulbs', bar(9), bars(8), light(0.6, only('salt'), accent(0)), { origin: beats(2) }),
      cue('foots', bar(9), bars(8), light(0.45, only('plum'), accent(0.3)), { in: bars(2) }),
    ),
    rush1: section(
      'Rush',
      4,
      {
        tempo: [{ at: 0, bpm: 156, glide: bars(4) }],
        note: 'Push. It should feel like a drawer that sticks.',
      },
      cue(
        'tubes',
        bar(1),
        bars(4) - beats(1),
        light(
          [
            { at: 0, level: 0.35 },
            { at: bars(4), level: 0.95 },
          ],
          turning('plum', 'fuchsia', 'salt'),
          every(BAR, 'cascade', { spread: 0.8, duty: 0.8, shape: 0.5, floor: 0.2, direction: 'backward' }),
        ),
      ),
      cue('letters', bar(3), bars(2) - beats(1), light(0.9, only('fuchsia'), still), {
        in: [bars(2) - beats(1), 'late'],
      }),
    ),
    chorus1: section(
      'Chorus 1',
      16,
      { note: 'All of it. Hands off the strings for the last two bars: a breath, then the sign alone.' },
      look('allOpen', bar(1), bars(8)),
      look('allOpen', bar(9), bars(6), {}, ['letters', 'bulbs', 'rings', 'foots']),
      cue(
        'tubes',
        bar(9),
        bars(6),
        light(
          1,
          rising('plum', 'fuchsia', 'salt'),
          every(BAR, 'answer', { spread: 2, duty: 0.4, shape: 0.5, floor: 0.2 }),
        ),
        { name: 'Hand over hand' },
      ),
      cue(
        'letters',
        bar(15, 3),
        bars(2) - beats(2),
        light(1, only('salt'), every(QUARTER, 'strobe', { spread: 0, duty: 0.35 })),
        { name: 'Slam' },
      ),
    ),
    verse2: section('Verse 2', 16, {
      sameAs: { section: 'verse1', swatches: { fuchsia: 'tide', plum: 'harbour' } },
      note: 'Back to the first tempo at once, and cold.',
    }),
    rush2: section('Rush again', 4, {
      sameAs: { section: 'rush1', swatches: { plum: 'harbour' } },
      note: 'Out of the cold into the same heat.',
    }),
    chorus2: section('Chorus 2', 16, {
      sameAs: { section: 'chorus1' },
      note: 'As before. Hands off at the end.',
    }),
    halt: section(
      'Bottom drawer',
      8,
      {
        tempo: [{ at: 0, bpm: 112, glide: bars(7) }],
        note: 'Slow down together, eyes on the drums. Then nothing for a breath.',
      },
      cue(
        'rings',
        bar(1),
        bars(7),
        light(
          0.6,
          rising('plum', 'heather'),
          every(2 * BAR, 'drift', { spread: 0.6, duty: 0.5, shape: 0.8, seed: 6 }),
        ),
        { in: beats(3), out: [bars(2), 'early'] },
      ),
      cue(
        'foots',
        bar(1),
        bars(6),
        light(0.6, only('plum'), every(BAR, 'swell', { spread: 0.5, duty: 0.4, shape: 0.9 })),
        { out: [bars(3), 'soft'] },
      ),
      cue(
        'tubes',
        bar(3),
        bars(5),
        light(0.55, rising('plum', 'heather'), every(4 * BAR, 'sway', { duty: 0.5, shape: 1 })),
        { in: bars(2), out: bars(2) },
      ),
    ),
    chorus3: section('Last chorus', 8, {
      sameAs: { section: 'chorus1', swatches: { plum: 'ember', fuchsia: 'brass', salt: 'cream' } },
      note: 'Gold. Eight bars and out.',
    }),
    end: section(
      'Shut',
      3,
      { note: 'One slam, all together. The sign goes last.' },
      cue('tubes', bar(1), bars(1), light(1, only('cream'), still), { out: [beats(5), 'early'] }),
      cue('bulbs', bar(1), bars(1), light(1, only('cream'), still), { out: [beats(5), 'early'] }),
      cue('foots', bar(1), bars(1), light(0.8, only('ember'), still), { out: [beats(6), 'early'] }),
      cue('letters', bar(1), bars(3), light(1, turning('cream', 'ember'), still), { out: [bars(2), 'soft'] }),
    ),
  },
)
