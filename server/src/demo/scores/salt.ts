// The music of Salt for the Piano, a slow waltz in A minor: a left hand that rocks, a saw that sings, one loud page.

import { measures } from '../chart.ts'
import { EIGHTH, QUARTER } from '../light.ts'
import { drums, tune } from '../score.ts'

const { bar, bars } = measures({ beats: 3, unit: 4 })
const BAR = 3 * QUARTER

const rocking = `
  A2 E3 B3? C4 B3? E3? | F2 C3 G3? A3 G3? C3? | D2 A2 E3? F3 E3? A2? | E2 B2 D3? G3 D3? B2?
  A2 E3 B3? E4 B3? E3? | C3 G3 D4? E4 D4? G3? | F2 C3 E3? A3 E3? C3? | E2 B2 E3? G#3 B3? E3?`
const saw = `
  E5? - - - - D5? | C5 - - - B4 - | A4 - - - F4 - | G4 - - B4 - -
  C5? - - - E5 - | G5 - - - D5 - | C5 - - A4 - - | B4 - - - - .`

export const saltScore = {
  intro: [tune('chords', bar(1), bars(8), EIGHTH, rocking)],
  verse: [
    tune('chords', bar(1), bars(16), EIGHTH, rocking),
    tune('bass', bar(9), bars(8), BAR, 'A1? F1? D1? E1? A1? C2? F1? E1?'),
    tune('lead', bar(9), bars(8), EIGHTH, saw),
  ],
  // One, and nothing on two and three but brushes.
  refrain: [
    tune(
      'chords',
      bar(1),
      bars(16),
      BAR,
      `C3+G3+E4 E3+B3+G4? F3+C4+A4 G3+D4+B3? A2+E3+C4 E3+B3+G4? F3+A3+D4 E3+G#3+D4
       C3+G3+E4 B2+G3+F4? A2+G3+E4 F3+C4+A4? D3+A3+F4 D3+B3+F4? E3+A3+B3 E3+G#3+B3`,
    ),
    tune(
      'bass',
      bar(1),
      bars(16),
      QUARTER,
      `C2 . . E2 . . F2 . . G1 . . A1 . . E2 . . D2 . . E2 . .
       C2 . . B1 . . A1 . . F1 . . D2 . . D2 . . E1 . . E1 . .`,
    ),
    drums(bar(1), bars(16), EIGHTH, { kick: 'o.....', shaker: '..o.o.', ride: '......|x.....' }),
    tune(
      'lead',
      bar(9),
      bars(8),
      QUARTER,
      'E5? - - | D5? - B4? | C5? - - | A4? - C5? | D5 - - | F5 - D5 | B4 - - | B4? - -',
    ),
  ],
  lift: [
    drums(bar(1), bars(16), EIGHTH, {
      crash: `X${'.'.repeat(47)}`,
      kick: 'X.....|x....x',
      snare: '....X.|..o.X.',
      ride: 'x.x.x.|x.x.x.',
    }),
    tune(
      'bass',
      bar(1),
      bars(16),
      QUARTER,
      `F1! C2 F2 | G1! D2 G2 | C2! G1 E2 | A1! E2 A2 | D2! A1 D2 | G1! B1 D2 | C2! E2 G2 | E2! D2 B1
       F1! C2 F2 | G1! D2 G2 | A1! E2 C2 | A1! G1 E1 | D2! A1 F1 | D2! F2 A2 | E1! B1 E2 | E1! G#1 B1`,
    ),
    tune(
      'chords',
      bar(1),
      bars(16),
      QUARTER,
      `A3+C4+F4! A3+C4+F4 A3+C4+F4? | B3+D4+G4! B3+D4+G4 B3+D4+G4? | C4+E4+G4! C4+E4+G4 C4+E4+G4?
       C4+E4+A4! C4+E4+A4 C4+E4+A4? | A3+D4+F4! A3+D4+F4 A3+D4+F4? | B3+D4+G4! B3+D4+G4 B3+D4+G4?
       G3+C4+E4! G3+C4+E4 G3+C4+E4? | G#3+B3+E4! G#3+B3+E4 G#3+B3+D4?`,
    ),
    tune(
      'lead',
      bar(1),
      bars(16),
      EIGHTH,
      `A4! - - C5 - A4 | B4! - - - D5 - | E5! - - D5 - C5 | A4 - - - - - | F5! - - E5 - D5 | B4 - - - G4 - | E5! - - D5 C5 - | B4 - - - E5 -
       A5! - - G5 - F5 | G5! - - - D5 - | E5! - - C5 - A4 | E5 - - - - - | F5! - - D5 - F5 | A5 - - F5 - D5 | B4! - - E5 - - | G#4 - - B4 - .`,
    ),
  ],
  coda: [
    tune('chords', bar(1), bars(8), EIGHTH, rocking),
    tune(
      'lead',
      bar(1),
      bars(4),
      EIGHTH,
      'E5? - - - - D5? | C5? - - - - - | A4? - - - F4? - | G4? - - - - .',
    ),
    // One low A.
    tune('chords', bar(9), bars(2), BAR, 'A1+A2 -'),
    tune('bass', bar(9), bars(2), BAR, 'A1? -'),
  ],
}
