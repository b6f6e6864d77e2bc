// The light of a voice: its motion at a rate that fits, its colours, its level with builds and sinkings.

import type { Light, Motion } from '../../light/schema.ts'
import type { Ticks } from '../../time/units.ts'
import type { Movement, Voice } from './moods.ts'
import type { Tints } from './palette.ts'

export const evenly = (tints: Tints, tint: keyof Tints): Light['colours'] => ({
  along: 'none',
  colour: tints[tint],
})

export function coloursOf({ tint }: Voice, tints: Tints): Light['colours'] {
  const { first, second } = tints
  switch (tint) {
    case 'first':
    case 'second':
    case 'pale':
      return evenly(tints, tint)
    case 'blend':
      return { along: 'part', stops: stops(first, second) }
    case 'crest':
      return { along: 'motion', stops: stops(second, first) }
    case 'turn':
      return { along: 'time', stops: stops(first, second) }
  }
}

const stops = (from: Tints['first'], to: Tints['first']) => [
  { at: 0, colour: from },
  { at: 1, colour: to },
]

/** The motion of a movement with a cycle of some ticks; `turned`: it runs the other way. */
export function motionOf(movement: Movement, cycle: Ticks, seed: number, turned: boolean): Motion {
  const { kind, spread, duty, shape, floor, direction = 'forward' } = movement
  const turn = { forward: 'backward', backward: 'forward', outward: 'inward', inward: 'outward' } as const
  return {
    kind,
    rate: { ticks: cycle },
    spread,
    direction: turned ? turn[direction] : direction,
    duty,
    shape,
    floor,
    by: 'fixture',
    seed,
  }
}

/** L* share 0…1 in hundredths, so that what is stored is what is read on the panel. */
export const levelOf = (level: number): number => Math.round(100 * Math.min(1, Math.max(0, level))) / 100

/** Steady, and over the last `over` ticks of `length` on the way to another level. */
export const movingLevel = (level: number, to: number, length: number, over: number): Light['level'] => [
  { at: 0 as Ticks, level: levelOf(level) },
  ...(over < length ? [{ at: (length - over) as Ticks, level: levelOf(level) }] : []),
  { at: length as Ticks, level: levelOf(to) },
]
