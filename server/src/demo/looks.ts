// The band's looks: what each part does, song by song; a part that a look leaves out is left dark, or to other cues.

import {
  across,
  EIGHTH,
  every,
  HALF,
  type LightText,
  light,
  only,
  QUARTER,
  rising,
  still,
  WHOLE,
} from './light.ts'
import type { PartId } from './parts.ts'

export type LookId =
  | 'porchLamps'
  | 'longDivision'
  | 'addsUp'
  | 'carryTheOne'
  | 'chalkDust'
  | 'saltAir'
  | 'lidUp'
  | 'sevenDrawers'
  | 'allOpen'
  | 'blackWater'
  | 'smallMoon'
  | 'landingLights'

interface Look {
  readonly name: string
  readonly parts: Partial<Record<PartId, LightText>>
}

/** A bar of 3/4 or of 6/8, and one of 7/8. */
const WALTZ = 3 * QUARTER
const SEVEN = 7 * EIGHTH

export const looks: Record<LookId, Look> = {
  // Porchlight Arithmetic
  porchLamps: {
    name: 'Porch lamps',
    parts: {
      bulbs: light(0.74, only('porch'), every(WHOLE, 'filament', { spread: 1, duty: 0.9, shape: 0.5 })),
      foots: light(0.42, only('ember'), still),
    },
  },
  longDivision: {
    name: 'Long division',
    parts: {
      bulbs: light(0.55, only('porch'), every(2 * WHOLE, 'filament', { spread: 1, duty: 1, shape: 0.4 })),
      tubes: light(
        0.55,
        rising('dusk', 'heather'),
        every(4 * WHOLE, 'sway', { duty: 0.55, shape: 1, floor: 0.16 }),
      ),
    },
  },
  addsUp: {
    name: 'It all adds up',
    parts: {
      letters: light(
        0.92,
        rising('ember', 'cream'),
        every(WHOLE, 'answer', { spread: 2, duty: 0.42, shape: 0.25, floor: 0.2 }),
      ),
      bulbs: light(
        0.85,
        across('cream', 'porch'),
        every(QUARTER, 'scatter', { spread: 0, duty: 0.4, shape: 0.75, seed: 3 }),
      ),
      rings: light(
        0.8,
        only('rose'),
        every(QUARTER, 'pulse', { spread: 0, duty: 0.8, shape: 0.6, floor: 0.15 }),
      ),
      tubes: light(
        0.98,
        rising('ember', 'peach', 'cream'),
        every(2 * WHOLE, 'sway', { duty: 0.34, shape: 0.9, floor: 0.22 }),
      ),
      foots: light(
        0.55,
        only('ember'),
        every(WHOLE, 'swell', { spread: 0, duty: 0.6, shape: 1, floor: 0.55 }),
      ),
    },
  },
  carryTheOne: {
    name: 'Carry the one',
    parts: {
      letters: light(
        1,
        only('cream'),
        every(HALF, 'swell', { spread: 0.66, duty: 0.6, shape: 0.7, floor: 0.35 }),
      ),
      bulbs: light(
        0.85,
        across('cream', 'porch'),
        every(QUARTER, 'scatter', { spread: 0, duty: 0.5, shape: 0.75, seed: 8 }),
      ),
      rings: light(
        0.85,
        rising('plum', 'rose'),
        every(HALF, 'answer', { duty: 0.5, shape: 0.4, floor: 0.25 }),
      ),
      tubes: light(
        1,
        rising('ember', 'cream'),
        every(WHOLE, 'chase', { duty: 0.3, shape: 0.5, floor: 0.12, direction: 'outward' }),
      ),
      foots: light(0.65, across('ember', 'rose'), still),
    },
  },
  chalkDust: {
    name: 'Chalk dust',
    parts: {
      bulbs: light(0.6, only('salt'), every(WHOLE, 'scatter', { duty: 0.35, shape: 0.9, seed: 21 })),
      tubes: light(
        0.5,
        rising('harbour', 'tide', 'salt'),
        every(3 * WHOLE, 'drift', { spread: 1, duty: 0.5, shape: 0.8, floor: 0.2 }),
      ),
    },
  },
  // Salt for the Piano
  saltAir: {
    name: 'Salt air',
    parts: {
      bulbs: light(0.56, only('moon'), every(WALTZ, 'filament', { duty: 1, shape: 0.6, seed: 5 })),
      tubes: light(
        0.5,
        rising('harbour', 'ice'),
        every(2 * WALTZ, 'swell', { spread: 0.8, duty: 0.45, shape: 1, floor: 0.1 }),
      ),
    },
  },
  lidUp: {
    name: 'Lid up',
    parts: {
      letters: light(
        0.85,
        rising('rose', 'cream'),
        every(WALTZ, 'answer', { spread: 2, duty: 0.4, shape: 0.8, floor: 0.12 }),
      ),
      bulbs: light(
        0.8,
        only('moon'),
        every(QUARTER, 'scatter', { spread: 0, duty: 0.35, shape: 0.9, seed: 13 }),
      ),
      rings: light(
        0.8,
        only('rose'),
        every(WALTZ, 'swell', { spread: 0, duty: 0.4, shape: 0.8, floor: 0.2 }),
      ),
      tubes: light(
        0.95,
        rising('plum', 'rose', 'cream'),
        every(WALTZ, 'cascade', { duty: 0.75, shape: 0.7, floor: 0.15, direction: 'outward' }),
      ),
      foots: light(0.5, only('peach'), still),
    },
  },
  // Seven Drawers Down: the parts take the accents of 2 + 2 + 3 in turn.
  sevenDrawers: {
    name: 'Seven drawers',
    parts: {
      rings: light(
        0.8,
        only('fuchsia'),
        every(SEVEN, 'pulse', { spread: 0, duty: 0.4, shape: 0.7, floor: 0.12 }),
      ),
      tubes: light(
        0.8,
        rising('plum', 'fuchsia'),
        every(SEVEN, 'chase', { duty: 0.36, shape: 0.6, floor: 0.14 }),
      ),
    },
  },
  allOpen: {
    name: 'All drawers open',
    parts: {
      letters: light(
        1,
        rising('fuchsia', 'salt'),
        every(SEVEN, 'answer', { spread: 2, duty: 0.36, shape: 0.15, floor: 0.15 }),
      ),
      bulbs: light(
        0.9,
        only('salt'),
        every(SEVEN, 'scatter', { spread: 0, duty: 0.4, shape: 0.6, seed: 21 }),
      ),
      rings: light(
        1,
        only('fuchsia'),
        every(SEVEN, 'ring', { spread: 0.5, duty: 0.9, shape: 0.7, floor: 0.2 }),
      ),
      tubes: light(
        1,
        rising('plum', 'fuchsia', 'salt'),
        every(SEVEN, 'ring', { spread: 0.6, duty: 0.55, shape: 0.6, floor: 0.15 }),
      ),
      foots: light(
        0.7,
        only('fuchsia'),
        every(SEVEN, 'pulse', { spread: 0, duty: 0.6, shape: 0.6, floor: 0.3 }),
      ),
    },
  },
  // Slow Ferry, Small Moon
  blackWater: {
    name: 'Black water',
    parts: {
      tubes: light(
        0.58,
        rising('harbour', 'harbour', 'tide'),
        every(4 * WALTZ, 'drift', { spread: 0.9, duty: 0.55, shape: 0.9, floor: 0.3, seed: 2 }),
      ),
      foots: light(0.34, only('harbour'), every(4 * WALTZ, 'sway', { duty: 0.6, shape: 1, floor: 0.3 })),
    },
  },
  smallMoon: {
    name: 'Small moon',
    parts: {
      rings: light(0.78, only('moon'), every(16 * WALTZ, 'swell', { spread: 0.5, duty: 0.5, shape: 1 })),
      bulbs: light(0.6, only('moon'), every(WALTZ, 'scatter', { duty: 0.35, shape: 0.9, seed: 55 })),
    },
  },
  landingLights: {
    name: 'Landing lights',
    parts: {
      letters: light(
        0.9,
        rising('brass', 'cream'),
        every(2 * WALTZ, 'swell', { spread: 0.4, duty: 0.55, shape: 0.9, floor: 0.2 }),
      ),
      bulbs: light(
        0.85,
        across('moon', 'brass'),
        every(WALTZ, 'chase', { duty: 0.5, shape: 0.6, floor: 0.25 }),
      ),
      tubes: light(
        0.95,
        rising('tide', 'brass', 'cream'),
        every(2 * WALTZ, 'chase', { spread: 1, duty: 0.4, shape: 0.9, floor: 0.2, direction: 'inward' }),
      ),
      foots: light(0.65, only('tide'), every(WALTZ, 'answer', { duty: 0.5, shape: 0.8, floor: 0.3 })),
    },
  },
}
