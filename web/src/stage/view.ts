// The stage as the house sees it: metres to pixels. Wide stages are narrowed to the band; heights keep their scale.

import type { Stage, StageFixture } from '@glowchart/shared/rig/stage.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'

export interface View {
  /** Px a metre, for heights and for the fixtures themselves. */
  readonly metre: number
  /** Line of the floor's front edge, px from the top. */
  readonly floor: number
  readonly width: number
  readonly height: number
  /** Where the stage lies across. */
  readonly left: number
  readonly right: number
  readonly stageWidth: number
}

export interface Spot {
  readonly fixture: StageFixture
  /** Its middle, px. */
  readonly x: number
  readonly y: number
  /** Radians clockwise, as the house sees it. */
  readonly turn: number
  /** In front of the band's things. */
  readonly inFront: boolean
  /** Hangs: its cable goes up. */
  readonly hangs: boolean
}

/** Each metre further from the house stands a little higher on the picture. */
const RISE = 1.6

export function viewOf(
  kit: Kit,
  stage: Stage,
  band: { width: number; height: number; left: number; right: number; floor: number },
): View {
  const top = Math.max(2.4, ...stage.fixtures.map(f => f.place.z + topOf(f)))
  return {
    metre: (band.floor - 10) / (top + 0.15),
    floor: band.floor,
    width: band.width,
    height: band.height,
    left: band.left,
    right: band.right,
    stageWidth: kit.stage.width,
  }
}

export function spotOf(fixture: StageFixture, view: View): Spot {
  const { place, turn } = fixture
  const up = place.z + reachUp(fixture) / 2
  return {
    fixture,
    x: acrossOf(place.x, view),
    y: view.floor - up * view.metre - place.y * RISE,
    turn: (turn * Math.PI) / 180,
    inFront: place.y < 0.8,
    hangs: fixture.shape === 'bulb' && place.z > 1.6,
  }
}

export const acrossOf = (x: number, view: View): number =>
  view.left + (x / view.stageWidth + 0.5) * (view.right - view.left)

/** How high a fixture stands over its place, m: a tube stands on it; the others hang about it. */
function reachUp({ shape, size, turn }: StageFixture): number {
  return shape === 'tube' ? size.long * Math.abs(Math.cos((turn * Math.PI) / 180)) : 0
}

/** Its highest point over its place, m. */
function topOf(fixture: StageFixture): number {
  const { shape, size, turn } = fixture
  const angle = (turn * Math.PI) / 180
  if (shape === 'tube') return reachUp(fixture)
  if (shape === 'ring' || shape === 'bulb') return size.long / 2
  return (size.long * Math.abs(Math.sin(angle)) + size.across * Math.abs(Math.cos(angle))) / 2
}

/** Room that a fixture takes on the picture, px: 24 at least, so that it can be pointed at. */
export function sizeOf(spot: Spot, metre: number): { width: number; height: number } {
  const long = spot.fixture.size.long * metre
  const across = Math.max(10, spot.fixture.size.across * metre)
  const upright = spot.fixture.shape === 'tube' || spot.fixture.shape === 'bulb'
  const [w, h] = spot.fixture.shape === 'ring' ? [long, long] : upright ? [across, long] : [long, across]
  const cos = Math.abs(Math.cos(spot.turn))
  const sin = Math.abs(Math.sin(spot.turn))
  return { width: Math.max(24, w * cos + h * sin), height: Math.max(24, w * sin + h * cos) }
}
