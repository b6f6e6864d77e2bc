// The music of Porchlight Arithmetic, in D: a picked guitar that counts, a band that joins it, Ohs over everything.

import { measures } from '../chart.ts'
import { EIGHTH, HALF, WHOLE } from '../light.ts'
import { drums, tune } from '../score.ts'

const { bar, bars } = measures({ beats: 4, unit: 4 })
const SIXTEENTH = EIGHTH / 2

const picking = `
  D3 A3 E4 F#4 A3 E4 D4 A3 | F#3 C#4 E4 A4 C#4 E4 A3 C#4
  G3 D4 F#4 B4 D4 F#4 A3 D4 | E3 B3 D4 G4 B3 D4 F#4 E4`
const walking = `
  D2 - - D2 - - A1 - | F#1 - - F#1 - - C#2 - | G1 - - G1 - - D2 - | E1 - - E1 - F#1 G1 A1`
/** Sung on few notes, with a gap after every third and fourth, as numbers are said. */
const number = `
  . F#4 F#4 E4 . F#4 A4 - | . E4 E4 C#4 . E4 - - | . D4 D4 E4 . F#4 D4 - | . E4 G4 F#4 E4 - - .
  . F#4 F#4 E4 . F#4 B4 - | . A4 E4 C#4 . E4 - - | . D4 D4 B3 . D4 E4 - | . G4 F#4 E4 F#4 - - .`

const G = 'B3+D4+G4'
const D = 'A3+D4+F#4'
const Em = 'B3+E4+G4'
const Bm = 'B3+D4+F#4'
const Fm = 'A3+C#4+F#4'
const A = 'A3+C#4+E4'
const strummed = (chord: string) => `${chord}! . ${chord} ${chord}? . ${chord} ${chord}? .`
const driving = (root: string, lead: string) =>
  `${root}! ${root} ${root} ${root} ${root}! ${root} ${root} ${lead}`

const verseBeat = {
  kick: 'x.......|..x.....',
  rim: '....x...|....x..o',
  hat: 'x.o.x.o.|x.o.x.o.',
}

export const porchlightScore = {
  intro: [
    tune('chords', bar(1), bars(8), EIGHTH, picking),
    drums(bar(7), bars(2), SIXTEENTH, { shaker: 'o.o.o.o.|o.o.o.oo' }),
  ],
  verse1: [
    drums(bar(1), bars(15), SIXTEENTH, verseBeat),
    drums(bar(16), bars(1), SIXTEENTH, { kick: 'x.......|..x.....', snare: '....x...|x.x.xxXX' }),
    tune('bass', bar(1), bars(16), EIGHTH, walking),
    tune('chords', bar(1), bars(16), EIGHTH, picking),
    tune('lead', bar(1), bars(14), EIGHTH, number),
    tune('lead', bar(15), bars(2), EIGHTH, 'A4! - . F#4! - . D4! - | A4! - - B4 - - C#5 -'),
  ],
  chorus1: [
    drums(bar(1), bars(15), WHOLE / 8, { crash: 'X.......|........'.repeat(4) }),
    drums(bar(1), bars(15), SIXTEENTH, {
      kick: 'X..x..x.|x.x...x.',
      snare: '....X...|....X..o',
      open: '..x...x.|..x...x.',
      hat: 'x...x...|x...x...',
    }),
    tune(
      'bass',
      bar(1),
      bars(15),
      EIGHTH,
      [
        driving('G1', 'C#2'),
        driving('D2', 'D2'),
        driving('E2', 'D2'),
        driving('B1', 'A1'),
        driving('G1', 'F#1'),
        driving('F#1', 'F#1'),
        driving('E1', 'G1'),
        driving('A1', 'B1'),
      ].join(' '),
    ),
    tune('chords', bar(1), bars(15), EIGHTH, [G, D, Em, Bm, G, Fm, Em, A].map(strummed).join(' ')),
    tune(
      'lead',
      bar(1),
      bars(15),
      EIGHTH,
      `B4! - - A4 - - G4 - | A4 - F#4 - - - . . | B4! - - D5 - - B4 - | F#4 - - - - - . .
       D5! - - C#5 - - B4 - | C#5 - A4 - - - . . | B4! - G4 - E4 - G4 - | E5! - - - C#5 - - .`,
    ),
    // Dead stop: one stroke, and the chord rings under the sign.
    drums(bar(16), bars(1), WHOLE, { kick: 'X', crash: 'X' }),
    tune('bass', bar(16), bars(1), HALF, 'D1! .'),
    tune('chords', bar(16), bars(1), WHOLE, 'D3+A3+D4+F#4!'),
    tune('lead', bar(16), bars(1), EIGHTH, 'D5! - - - . . . .'),
  ],
  verse2: [
    drums(bar(1), bars(15), SIXTEENTH, verseBeat),
    drums(bar(16), bars(1), SIXTEENTH, { kick: 'x.......|..x.....', snare: '....x...|x.x.xxXX' }),
    tune('bass', bar(5), bars(12), EIGHTH, walking),
    tune('chords', bar(1), bars(16), EIGHTH, picking),
    tune('lead', bar(1), bars(14), EIGHTH, number),
    tune('lead', bar(15), bars(2), EIGHTH, 'A4! - . F#4! - . D4! - | A4! - - B4 - - C#5 -'),
  ],
  bridge: [
    drums(bar(1), bars(4), SIXTEENTH, { rim: 'x..o..x.|..x...o.', pedal: '....o...|....o...' }),
    drums(bar(5), bars(2), SIXTEENTH, { snare: 'oooooooo|oooooooo', kick: 'x.......|........' }),
    drums(bar(7), bars(1), SIXTEENTH, { snare: 'xoxoxoxo|xoxoxoxo', kick: 'x.......|x.......' }),
    drums(bar(8), bars(1), SIXTEENTH, { snare: 'XxxxXxxx|XXXXXXX.', kick: 'x...x...|x.x.x.x.' }),
    tune('bass', bar(1), bars(4), WHOLE, 'B1? F#1? B1? E1?'),
    tune('bass', bar(5), bars(4), EIGHTH, 'A1 A1 A1 A1 A1 A1 A1 A1'),
    tune(
      'chords',
      bar(1),
      bars(8),
      WHOLE,
      'B3+D4+F#4+C#5? A3+E4+F#4? B3+D4+F#4+C#5? G#3+B3+E4? | A3+D4+E4? A3+C#4+E4 A3+D4+E4 A3+C#4+E4+A4',
    ),
  ],
  out: [
    tune('chords', bar(1), bars(4), EIGHTH, picking),
    tune('chords', bar(5), bars(4), WHOLE, 'D3+A3+E4+F#4? - - -'),
    tune('bass', bar(1), bars(4), WHOLE, 'D2? F#1? G1? E1?'),
    tune('bass', bar(5), bars(2), WHOLE, 'D1? -'),
    drums(bar(1), bars(4), SIXTEENTH, { shaker: 'o.o.o.o.|o.o.o.oo' }),
  ],
}
