// The music of Seven Drawers Down, around F sharp: a riff in two and two and three that everybody ends up playing.

import { measures } from '../chart.ts'
import { EIGHTH } from '../light.ts'
import { drums, tune } from '../score.ts'

const { bar, bars } = measures({ beats: 7, unit: 8 })
const BAR = 7 * EIGHTH
const SIXTEENTH = EIGHTH / 2

const riff = 'F#1! - F#1 - A1! - G1 | F#1! - F#1 G1 E1! - C#2 | F#1! - F#1 - A1! - B1 | G1! - G1 - E1! F1 -'
const spoken = `
  C#4 . C#4 . C#4 D4 . | C#4 . B3 . C#4 - . | . . C#4 . E4 D4 C#4 | . B3 . . A3 - .
  C#4 . C#4 . C#4 D4 . | C#4 . B3 . F#4 - . | . . E4 . D4 C#4 B3 | . C#4 . . C#4 - .`

const stabs = (chord: string) => `${chord}! . ${chord} . ${chord}! . .`
const Fm = 'A3+C#4+F#4'
const G = 'B3+D4+G4'
const Em = 'B3+E4+G4'
const A = 'A3+C#4+E4'
const D = 'A3+D4+F#4'

export const drawersScore = {
  intro: [
    tune('bass', bar(1), bars(8), EIGHTH, riff),
    drums(bar(1), bars(8), EIGHTH, { floor: 'X......' }),
    drums(bar(3), bars(6), EIGHTH, { tom: '..x....' }),
    drums(bar(5), bars(4), EIGHTH, { high: '....x.o' }),
  ],
  verse1: [
    tune('bass', bar(1), bars(16), EIGHTH, riff),
    drums(bar(1), bars(8), EIGHTH, { kick: 'x......', rim: '....x..', hat: 'xoxoxoo' }),
    drums(bar(9), bars(8), SIXTEENTH, {
      kick: 'x...x.........',
      rim: '........x.....',
      hat: 'x.o.x.o.x.o.oo',
      floor: '............o.',
    }),
    tune('chords', bar(9), bars(8), EIGHTH, `. . . . ${Fm}? . . | . . . . ${Em}? . .`),
    tune('lead', bar(1), bars(16), EIGHTH, spoken),
  ],
  rush1: [
    drums(bar(1), bars(3), SIXTEENTH, { snare: 'x.o.x.o.x.o.o.', kick: 'x...x...x.....' }),
    drums(bar(4), bars(1), SIXTEENTH, { snare: 'XoXoXoXoXxXxXX', kick: 'x...x...x.x.x.' }),
    tune('bass', bar(1), bars(4), EIGHTH, 'C#2 C#2 C#2 C#2 C#2 C#2 C#2 | C#2! C#2 C#2! C#2 C#2! C#2 B1'),
    tune(
      'chords',
      bar(1),
      bars(4),
      BAR,
      'G#3+C#4+F#4? G#3+C#4+E#4 A3+C#4+G4 B3+C#4+E#4+G#4!'.replaceAll('E#', 'F'),
    ),
  ],
  chorus1: [
    drums(bar(1), bars(14), EIGHTH, { crash: `X${'.'.repeat(27)}` }),
    drums(bar(1), bars(14), SIXTEENTH, {
      kick: 'X...x...X.....|X..xx...X...x.',
      snare: '....X.......X.|....X.......Xx',
      open: 'x.x.x.x.x.x.x.',
    }),
    tune('bass', bar(1), bars(14), EIGHTH, riff),
    tune('chords', bar(1), bars(14), EIGHTH, [Fm, Em, Fm, G, D, A, Fm, G].map(stabs).join(' ')),
    tune(
      'lead',
      bar(1),
      bars(14),
      EIGHTH,
      `F#5! - E5 - C#5 - - | B4 - D5 - C#5 - - | F#5! - E5 - A5 - - | G5 - E5 - D5 C#5 -
       A5! - F#5 - D5 - - | E5 - C#5 - A4 - - | C#5! - D5 - C#5 - A4 | B4 - G4 - F#4 - .`,
    ),
    // Hands off: one stroke, a breath.
    drums(bar(15), bars(1), BAR, { kick: 'X', crash: 'X', snare: 'X' }),
    tune('bass', bar(15), bars(1), EIGHTH, 'F#1! . . . . . .'),
    tune('chords', bar(15), bars(1), EIGHTH, 'F#3+A3+C#4+F#4! . . . . . .'),
  ],
  halt: [
    drums(bar(1), bars(6), EIGHTH, { floor: 'x......', kick: 'o...o..' }),
    drums(bar(7), bars(1), EIGHTH, { floor: 'o......' }),
    tune('bass', bar(1), bars(6), BAR, 'F#1 F#1 E1 D1 C#1 C#1'),
    tune(
      'chords',
      bar(1),
      bars(7),
      BAR,
      'F#3+C#4+G#4? F#3+C#4+A4? E3+B3+G4? D3+A3+F#4? C#3+G#3+B3? C#3+G#3+B3? F#3+C#4?',
    ),
    tune(
      'lead',
      bar(3),
      bars(4),
      EIGHTH,
      'C#5? - - - B4? - - | A4? - - - - - - | G#4? - - - B4? - - | G#4? - - - - - -',
    ),
  ],
  end: [
    drums(bar(1), bars(1), BAR, { kick: 'X', crash: 'X', snare: 'X', floor: 'X' }),
    tune('bass', bar(1), bars(2), BAR, 'F#1! -'),
    tune('chords', bar(1), bars(3), BAR, 'F#3+A#3+C#4+F#4! - -'),
    tune('lead', bar(1), bars(2), BAR, 'C#5! -'),
  ],
}
