// The moods of a rough-in: how open the stage is in each, and what its voices do, in plain musical words.

import type { directions, Motion } from '../../light/schema.ts'

export const moodNames = [
  'hushed',
  'tender',
  'floating',
  'rolling',
  'driving',
  'soaring',
  'broken',
  'closing',
] as const
export type Mood = (typeof moodNames)[number]

/**
 * Where a voice takes its colour: the mood's first, its second, the pale one; from first to second along the part;
 * the first on the crest over the second in the valley; or turning from first to second while the cue lasts.
 */
type Tint = 'first' | 'second' | 'pale' | 'blend' | 'crest' | 'turn'

/** A motion a voice may have. `cycle`: one beat, or so many bars; slower where the tempo is too fast for it. */
export interface Movement extends Pick<Motion, 'kind' | 'spread' | 'duty' | 'shape' | 'floor'> {
  readonly cycle: 'beat' | number
  readonly direction?: (typeof directions)[number]
}

/** What one part does in a mood. */
export interface Voice {
  /** L* share 0…1. */
  readonly level: number
  readonly tint: Tint
  /** The seed chooses one of them. */
  readonly movements: readonly Movement[]
  /** Comes in at the middle of the section, the first time the mood is played. */
  readonly late?: true
}

export interface MoodPlan {
  /** How much of the stage is open, 0…1: what rises into what. */
  readonly energy: number
  /** Degrees of hue between its two colours, as near as the swatches come. */
  readonly hueApart: number
  /** Its colours are those of the far side of the palette. */
  readonly farSide?: true
  /** Most important first; one part each. */
  readonly voices: readonly Voice[]
  /** Parts beyond the voices double them, a little lower; otherwise they stay dark. */
  readonly tutti?: true
  /** Bars that its light takes to come up. */
  readonly fadeBars: number
  /** From the middle of a long section on, its moving voices turn round and trade colours. */
  readonly turnsRound?: true
  /** Levels sink towards the end. */
  readonly sinks?: true
}

/** Steady light. */
export const still: Movement = { kind: 'sustain', cycle: 1, spread: 0, duty: 1, shape: 1, floor: 0 }

/** A movement; without a spread all of the part move together. */
const moving = (
  kind: Movement['kind'],
  cycle: Movement['cycle'],
  duty: number,
  rest: Partial<Pick<Movement, 'spread' | 'shape' | 'floor' | 'direction'>> = {},
): Movement => ({ kind, cycle, duty, spread: 0, shape: 1, floor: 0, ...rest })

export const moodPlans: Readonly<Record<Mood, MoodPlan>> = {
  hushed: {
    energy: 0.1,
    hueApart: 30,
    fadeBars: 2,
    voices: [
      {
        level: 0.48,
        tint: 'first',
        movements: [
          moving('filament', 2, 0.5, { spread: 1, shape: 0.8 }),
          moving('swell', 4, 0.6, { spread: 0.5, floor: 0.35 }),
        ],
      },
      {
        level: 0.34,
        tint: 'second',
        movements: [
          moving('drift', 4, 0.55, { spread: 0.7, floor: 0.3 }),
          moving('sway', 8, 0.6, { spread: 1 }),
        ],
        late: true,
      },
    ],
  },
  tender: {
    energy: 0.3,
    hueApart: 45,
    fadeBars: 1,
    voices: [
      {
        level: 0.56,
        tint: 'blend',
        movements: [
          moving('swell', 2, 0.6, { spread: 0.5, floor: 0.4 }),
          moving('sway', 4, 0.7, { spread: 1, floor: 0.3 }),
        ],
      },
      { level: 0.4, tint: 'first', movements: [moving('filament', 2, 0.4, { spread: 1, shape: 0.9 })] },
      {
        level: 0.34,
        tint: 'second',
        movements: [still, moving('swell', 4, 0.6, { floor: 0.5 })],
        late: true,
      },
    ],
  },
  floating: {
    energy: 0.25,
    hueApart: 60,
    fadeBars: 2,
    voices: [
      {
        level: 0.64,
        tint: 'crest',
        movements: [
          moving('drift', 2, 0.6, { spread: 1, floor: 0.3 }),
          moving('sway', 4, 0.5, { spread: 1, floor: 0.3 }),
        ],
      },
      { level: 0.5, tint: 'turn', movements: [moving('swell', 4, 0.55, { spread: 0.8, floor: 0.3 })] },
      { level: 0.4, tint: 'pale', movements: [moving('drift', 4, 0.5, { spread: 0.6 })], late: true },
    ],
  },
  rolling: {
    energy: 0.55,
    hueApart: 70,
    fadeBars: 0,
    turnsRound: true,
    voices: [
      {
        level: 0.78,
        tint: 'crest',
        movements: [
          moving('chase', 2, 0.5, { spread: 1, floor: 0.25 }),
          moving('sway', 2, 0.5, { spread: 1, floor: 0.2 }),
        ],
      },
      { level: 0.66, tint: 'first', movements: [moving('pulse', 1, 0.9, { shape: 0.8, floor: 0.45 })] },
      {
        level: 0.54,
        tint: 'blend',
        movements: [still, moving('swell', 2, 0.6, { spread: 0.3, floor: 0.5 })],
      },
      {
        level: 0.6,
        tint: 'second',
        movements: [
          moving('answer', 2, 0.5, { spread: 1, floor: 0.2 }),
          moving('ring', 2, 0.7, { spread: 0.5 }),
        ],
        late: true,
      },
    ],
  },
  driving: {
    energy: 0.8,
    hueApart: 140,
    fadeBars: 0,
    tutti: true,
    turnsRound: true,
    voices: [
      {
        level: 0.95,
        tint: 'first',
        movements: [
          moving('pulse', 'beat', 0.9, { shape: 0.7, floor: 0.3 }),
          moving('pulse', 'beat', 0.75, { shape: 0.9, floor: 0.25 }),
        ],
      },
      {
        level: 0.94,
        tint: 'crest',
        movements: [
          moving('chase', 1, 0.5, { spread: 1, floor: 0.3 }),
          moving('chase', 1, 0.55, { spread: 1, floor: 0.3, direction: 'outward' }),
        ],
      },
      {
        level: 0.9,
        tint: 'second',
        movements: [
          moving('answer', 1, 0.5, { spread: 1, shape: 0.6, floor: 0.15 }),
          moving('swell', 1, 0.5, { spread: 0.5, floor: 0.3 }),
        ],
      },
      { level: 0.85, tint: 'blend', movements: [still] },
      { level: 0.85, tint: 'pale', movements: [moving('scatter', 'beat', 0.4, { floor: 0.15 })], late: true },
    ],
  },
  soaring: {
    energy: 1,
    hueApart: 110,
    fadeBars: 0,
    tutti: true,
    turnsRound: true,
    voices: [
      {
        level: 1,
        tint: 'crest',
        movements: [
          moving('sway', 2, 0.6, { spread: 1, floor: 0.4 }),
          moving('ring', 2, 0.9, { spread: 0.5, floor: 0.4 }),
        ],
      },
      { level: 0.95, tint: 'blend', movements: [moving('swell', 1, 0.65, { spread: 0.4, floor: 0.5 })] },
      { level: 0.9, tint: 'pale', movements: [moving('pulse', 1, 1, { shape: 0.8, floor: 0.45 })] },
      {
        level: 0.9,
        tint: 'first',
        movements: [
          moving('cascade', 2, 0.8, { spread: 1, shape: 0.8, floor: 0.35 }),
          moving('chase', 2, 0.6, { spread: 1, floor: 0.35, direction: 'outward' }),
        ],
      },
      { level: 0.8, tint: 'second', movements: [still] },
    ],
  },
  broken: {
    energy: 0.4,
    hueApart: 160,
    farSide: true,
    fadeBars: 0,
    voices: [
      {
        level: 0.82,
        tint: 'first',
        movements: [
          moving('scatter', 1, 0.5, { shape: 0.7 }),
          moving('pulse', 2, 0.5, { shape: 0.9, spread: 0.8 }),
        ],
      },
      { level: 0.52, tint: 'second', movements: [moving('filament', 1, 0.9, { spread: 1, shape: 0.6 })] },
      { level: 0.6, tint: 'pale', movements: [moving('scatter', 2, 0.35, { shape: 1 })], late: true },
    ],
  },
  closing: {
    energy: 0.2,
    hueApart: 35,
    fadeBars: 1,
    sinks: true,
    voices: [
      { level: 0.6, tint: 'turn', movements: [moving('filament', 2, 0.4, { spread: 1, shape: 0.9 })] },
      { level: 0.46, tint: 'blend', movements: [moving('swell', 4, 0.6, { spread: 0.6, floor: 0.3 })] },
      { level: 0.34, tint: 'first', movements: [still] },
    ],
  },
}
