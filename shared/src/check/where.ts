// Where a thing stands on tonight's stage, in the words of the stage: left and right are the player's.

import type { Rig } from '../rig/schema.ts'
import type { Place } from '../show/fields.ts'
import type { Kit } from '../show/schema.ts'

/** Things that hang higher than this, metres, are said to. */
const HIGH = 1.8

const ordinals = [
  'first',
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
]

interface Standing {
  readonly id: string
  readonly build: string
  readonly place: Place
}

/**
 * “Upstage, third of 4 from stage right”. Of several fixtures of one build it counts across the stage; of boxes, and of
 * a fixture that is the only one of its build, it says the side. @param id of a fixture, a guest or a box of the kit
 */
export function whereOf(rig: Rig, kit: Kit, id: string): string {
  const box = kit.boxes[id]
  if (box) return sentence([depthOf(box.place, kit), sideOf(box.place, kit)])
  const all = standingOf(rig, kit)
  const one = all.find(other => other.id === id)
  if (!one) return ''
  const { place } = one
  // Stage right is the house's left: the negative side.
  const alike = all.filter(other => other.build === one.build).sort((a, b) => a.place.x - b.place.x)
  const number = ordinals[alike.indexOf(one)]
  const counted =
    alike.length > 1 && number ? `${number} of ${alike.length} from stage right` : sideOf(place, kit)
  return sentence([depthOf(place, kit), counted, place.z > HIGH ? `${place.z.toFixed(1)} m up` : ''])
}

function standingOf(rig: Rig, kit: Kit): Standing[] {
  const own = Object.values(kit.boxes).flatMap(box =>
    Object.values(box.sockets).map(({ fixture, place }) => ({
      id: fixture,
      build: rig.fixtures[fixture]?.build ?? '',
      place,
    })),
  )
  const guests = Object.entries(kit.guests).map(([id, { build, place }]) => ({ id, build, place }))
  return [...own, ...guests]
}

function depthOf({ y }: Place, { stage }: Kit): string {
  if (y > (stage.depth * 2) / 3) return 'upstage'
  return y < stage.depth / 3 ? 'downstage' : 'mid-stage'
}

function sideOf({ x }: Place, { stage }: Kit): string {
  if (Math.abs(x) < stage.width / 6) return 'centre'
  return x < 0 ? 'stage right' : 'stage left'
}

function sentence(words: readonly string[]): string {
  const said = words.filter(word => word !== '').join(', ')
  return said.charAt(0).toUpperCase() + said.slice(1)
}
