// What stands where: the full stage of sixteen lights, and the eight that fly.

import type { kitSchema } from '@glowchart/shared/show/schema.ts'
import type { Written } from './written.ts'

type KitText = Written<typeof kitSchema>

/** A fixture at its place: metres from the centre line (house right is positive), from the front edge, and up. */
const stand = (fixture: string, x: number, y: number, z: number, turn = 0) => ({
  fixture,
  place: { x, y, z },
  turn,
})

/** Stands in sockets 1, 2, 3… of a box. */
const plugged = (...stands: ReturnType<typeof stand>[]) =>
  Object.fromEntries(stands.map((s, i) => [`s${i + 1}`, s]))

/**
 * Letters over the band, bulbs at four heights beside them, rings either side of the drums, five tubes in an arc that
 * is highest in the middle, and two tubes on the floor along the front edge.
 */
const fullStage: KitText = {
  name: 'Full stage',
  stage: { width: 9, depth: 5, height: 3.6 },
  boxes: {
    left: {
      place: { x: -4.2, y: 4.2, z: 0 },
      sockets: plugged(
        stand('letters1', -1.5, 3.6, 2.95),
        stand('letters2', 0, 3.6, 3.05),
        stand('bulb1', -3.65, 1.8, 2.35),
        stand('bulb2', -2.6, 2.2, 2.85),
        stand('ring1', -1.3, 3.0, 1.35),
        stand('tube1', -4.0, 1.4, 0.15, -7),
        stand('tube2', -2.8, 2.8, 0.45, -4),
        stand('tube6', -1.75, 0.3, 0.06, 90),
      ),
    },
    right: {
      place: { x: 4.2, y: 4.2, z: 0 },
      sockets: plugged(
        stand('letters3', 1.5, 3.6, 2.95),
        stand('bulb3', 2.6, 2.2, 2.6),
        stand('bulb4', 3.65, 1.8, 2.95),
        stand('ring2', 1.3, 3.0, 1.35),
        stand('tube3', 0, 4.2, 1.2),
        stand('tube4', 2.8, 2.8, 0.45, 4),
        stand('tube5', 4.0, 1.4, 0.15, 7),
        stand('tube7', 1.75, 0.3, 0.06, 90),
      ),
    },
  },
  guests: {},
  parts: {
    letters: { fixtures: ['letters1', 'letters2', 'letters3'] },
    bulbs: { fixtures: ['bulb1', 'bulb2', 'bulb3', 'bulb4'] },
    rings: { fixtures: ['ring1', 'ring2'] },
    tubes: { fixtures: ['tube1', 'tube2', 'tube3', 'tube4', 'tube5'] },
    foots: { fixtures: ['tube6', 'tube7'] },
  },
}

/** One Oh, three bulbs and four tubes in a flight case. Bulbs play what the rings would, tubes what the foots would. */
const flyBox: KitText = {
  name: 'Fly box, eight sockets',
  stage: { width: 5, depth: 3, height: 2.8 },
  boxes: {
    fly: {
      place: { x: -2.2, y: 2.6, z: 0 },
      sockets: plugged(
        stand('letters1', 0, 2.4, 2.4),
        stand('bulb1', -1.5, 1.4, 2.05),
        stand('bulb2', -0.85, 1.8, 2.45),
        stand('bulb3', 1.4, 1.6, 2.25),
        stand('tube1', -2.1, 1.0, 0.15, -6),
        stand('tube2', -0.9, 2.0, 0.4, -2),
        stand('tube3', 0.9, 2.0, 0.4, 2),
        stand('tube4', 2.1, 1.0, 0.15, 6),
      ),
    },
  },
  guests: {},
  parts: {
    letters: { fixtures: ['letters1'] },
    bulbs: { fixtures: ['bulb1', 'bulb2', 'bulb3'] },
    rings: { fixtures: [], standIn: 'bulbs' },
    tubes: { fixtures: ['tube1', 'tube2', 'tube3', 'tube4'] },
    foots: { fixtures: [], standIn: 'tubes' },
  },
}

export const kits = { full: fullStage, fly: flyBox }
