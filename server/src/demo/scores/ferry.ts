// The music of Slow Ferry, Small Moon, 6/8 in D minor: a harmonium that breathes, brushes, a foghorn; F at the quay.

import { measures } from '../chart.ts'
import { EIGHTH, QUARTER } from '../light.ts'
import { drums, tune } from '../score.ts'

const { bar, bars } = measures({ beats: 6, unit: 8 })
const BAR = 3 * QUARTER
const DOTTED = BAR / 2

const brushes = { shaker: 'x.ooxo', kick: 'o.....', rim: '...o..' }
const rowing = `
  D2 - - A1 - - | D2 - - F2 - E2 | Bb1 - - F1 - - | C2 - - G1 - -
  D2 - - A1 - - | A1 - - E2 - - | Bb1 - - D2 - - | A1 - - C#2 - -`
const crossing = `
  . . D4 F4 - E4 | D4 - A4 - - - | . . Bb4 A4 - F4 | G4 - E4 - - -
  . . D4 F4 - G4 | A4 - C5 - A4 - | Bb4 - - F4 - D4 | E4 - - - - .`
const foghorn = (n: number) => tune('lead', bar(n), bars(2), BAR, 'D3! -')

export const ferryScore = {
  intro: [tune('chords', bar(1), bars(4), BAR, 'D3+A3+D4? - D3+A3+E4? -')],
  verse1: [
    drums(bar(1), bars(16), EIGHTH, brushes),
    tune('bass', bar(1), bars(16), EIGHTH, rowing),
    tune(
      'chords',
      bar(1),
      bars(16),
      BAR,
      'D3+A3+F4 D3+A3+E4? D3+Bb3+F4 C3+G3+E4? D3+A3+F4 C3+A3+E4? D3+Bb3+D4 C#3+A3+E4',
    ),
    tune('lead', bar(1), bars(7), EIGHTH, crossing),
    foghorn(8),
    tune(
      'lead',
      bar(10),
      bars(5),
      EIGHTH,
      'D4? - A4? - - - | . . Bb4 A4 - F4 | G4 - E4 - - - | . . D4 F4 - G4 | A4 - C5 - A4 -',
    ),
    foghorn(15),
  ],
  refrain1: [
    drums(bar(1), bars(8), EIGHTH, { shaker: 'xooxoo', kick: 'x..o..', snare: '...o..', ride: 'x..x..' }),
    tune('bass', bar(1), bars(8), DOTTED, 'F1 C2 C2 G1 G1 D2 D2 A1 F1 C2 C2 E2 Bb1 F1 Bb1 A1'),
    tune(
      'chords',
      bar(1),
      bars(8),
      DOTTED,
      `F3+C4+A4 F3+C4? E3+C4+G4 E3+C4? G3+Bb3+D4 G3+D4? F3+A3+D4 A3+D4?
       F3+C4+A4 F3+C4? E3+C4+G4 G3+C4? F3+Bb3+D4 Bb3+F4? F3+Bb3+D4 A3+C#4+E4?`,
    ),
    tune(
      'lead',
      bar(1),
      bars(8),
      EIGHTH,
      `A4 - C5 F5 - - | E5 - C5 G4 - - | Bb4 - D5 G5 - F5 | D5 - - - - - | A4 - C5 F5 - G5 | E5 - - C5 - - | D5 - Bb4 F4 - - | E4 - - - - .`,
    ),
  ],
  vamp: [
    drums(bar(1), bars(4), EIGHTH, { kick: 'x..x.o', shaker: 'oooooo' }),
    tune('bass', bar(1), bars(4), EIGHTH, 'D2 - D2 A1 - C2 | D2 - D2 F2 - E2'),
    tune('chords', bar(1), bars(4), BAR, 'D3+A3+E4 C3+G3+E4? D3+A3+F4 C3+G3+D4?'),
  ],
  landing: [
    drums(bar(1), bars(16), EIGHTH, {
      crash: `X${'.'.repeat(47)}`,
      kick: 'X..o.x|X..o..',
      snare: '...X..|...X.o',
      ride: 'x.xx.x',
    }),
    tune(
      'bass',
      bar(1),
      bars(16),
      EIGHTH,
      `F1! - F1 C2! - C2 | Bb1! - Bb1 F2! - D2 | F1! - F1 A1! - C2 | C2! - C2 G1! - E1
       D2! - D2 A1! - D2 | Bb1! - Bb1 D2! - F2 | G1! - G1 D2! - Bb1 | C2! - C2 E2! - C2`,
    ),
    tune(
      'chords',
      bar(1),
      bars(16),
      DOTTED,
      `F3+A3+C4! C4+F4? F3+Bb3+D4! D4+F4? F3+A3+C4! A3+C4+F4? E3+G3+C4! C4+E4?
       D3+A3+F4! A3+D4? F3+Bb3+D4! Bb3+F4? G3+Bb3+D4! Bb3+D4? E3+G3+C4! G3+C4+E4`,
    ),
    tune(
      'lead',
      bar(1),
      bars(16),
      EIGHTH,
      `. . C5! A4 - C5 | D5! - F5 - - - | . . C5! F5 - A5 | G5! - E5 - - - | F5! - D5 A4 - D5 | F5 - D5 Bb4 - - | Bb4! - D5 G5 - F5 | E5 - - C5 - .`,
    ),
  ],
  out: [
    drums(bar(1), bars(3), EIGHTH, brushes),
    tune('bass', bar(1), bars(4), BAR, 'F1? Bb1? F1? D1?'),
    tune('chords', bar(1), bars(8), BAR, 'F3+A3+C4? F3+Bb3+D4? F3+A3+C4? D3+A3+D4? - - - -'),
    tune('lead', bar(4), bars(4), BAR, 'D3! - - -'),
  ],
}
