// Faults of what is plugged where: colours that have changed places, and lights that stand in each other's sockets.

import type { ColourOrder } from '../rig/channels.ts'
import { type FaultNode, plugText, type Sight } from './fault-nodes.ts'

type Primary = 'red' | 'green' | 'blue'
const primaries = ['red', 'green', 'blue'] as const

/** What was seen when each colour was raised. */
export type Seen = Readonly<Record<Primary, Primary>>

/**
 * The colour order that makes a socket right: each output gets the name of the colour that it was seen to light.
 * @param before the order it was raised with
 */
export function orderSeen(seen: Seen, before: ColourOrder = 'rgb'): ColourOrder {
  const order = [...before].map(letter => {
    const raised = primaries.find(primary => primary.startsWith(letter))!
    return seen[raised].charAt(0)
  })
  return order.join('') as ColourOrder
}

/** The raised colour comes out as another: two of them name the order, the third is left over. */
export function wrongColour(sight: Sight): FaultNode {
  const first = sight.raise as Primary
  const second = primaries.find(primary => primary !== first)!
  return ask(
    first,
    primaries.filter(seen => seen !== first),
    sight,
    saw =>
      ask(
        second,
        primaries.filter(seen => seen !== saw),
        sight,
        also => {
          const third = primaries.find(primary => primary !== first && primary !== second)!
          const left = primaries.find(seen => seen !== saw && seen !== also)!
          return ordered(sight, { [first]: saw, [second]: also, [third]: left } as unknown as Seen)
        },
      ),
  )
}

function ask(
  raise: Primary,
  of: readonly Primary[],
  { station }: Sight,
  next: (saw: Primary) => FaultNode,
): FaultNode {
  return {
    kind: 'question',
    asks: `${station.name} is sent ${raise} now. Which colour lights?`,
    raise,
    answers: of.map(id => ({ id, says: id.charAt(0).toUpperCase() + id.slice(1), next: () => next(id) })),
  }
}

function ordered(sight: Sight, seen: Seen): FaultNode {
  const { station, kit } = sight
  const says = primaries
    .filter(primary => seen[primary] !== primary)
    .map(primary => `${primary} gives ${seen[primary]}`)
  if (station.box === null || station.socket === null) {
    return {
      kind: 'remedy',
      finds: `Its colours stand in another order: ${says.join(', ')}`,
      steps: ['Choose another mode in its menu, or correct the order of channels in its build.'],
      fault: null,
      offer: null,
    }
  }
  const before = kit.boxes[station.box]?.sockets[station.socket]?.swap
  const order = orderSeen(seen, before)
  return {
    kind: 'remedy',
    finds: `Its colours have changed places: ${says.join(', ')}`,
    steps: [
      'Turn the plug to its mark if it can be turned.',
      'Or let it be: the colours are put right for this socket tonight, and the check begins again with red.',
    ],
    fault: 'Colours have changed places',
    offer: { does: 'swap', order, says: `Send it as ${order.toUpperCase()} tonight` },
  }
}

/** The raise comes out of another light: two plugs stand in each other's sockets, or a box has another's address. */
export function anotherLights(sight: Sight): FaultNode {
  const { station, groups } = sight
  const others = groups
    .flatMap(({ stations }) => stations)
    .filter(other => other.fixture !== null && other.key !== station.key)
  return {
    kind: 'question',
    asks: 'Which light comes on?',
    answers: [
      ...others.map(other => ({
        id: other.key,
        says: `${other.name}, ${plugText(other)}`,
        next: (): FaultNode => exchanged(sight, other),
      })),
      {
        id: 'unknown',
        says: 'One that is not on the list',
        next: () => ({
          kind: 'remedy',
          finds: 'Something listens here that the kit does not know',
          steps: [
            `Look which light or box is set to universe ${station.universe}, slot ${station.slots.first}; give it a free address.`,
          ],
          fault: null,
          offer: null,
        }),
      },
    ],
  }
}

function exchanged({ station }: Sight, other: Sight['station']): FaultNode {
  if (station.box === null || other.box === null) {
    return {
      kind: 'remedy',
      finds: `${other.name} listens on slots of ${station.name}`,
      steps: ['Two lights share an address: set the guest to the one that stands in the patch.'],
      fault: null,
      offer: null,
    }
  }
  const isOtherBox = station.box !== other.box && station.label === other.label
  return {
    kind: 'remedy',
    finds: `${other.name} stands in ${plugText(station)}`,
    steps: [
      `Put ${station.name} in here and ${other.name} into ${plugText(other)}.`,
      'Or leave the plugs as they are, and let the kit have it so tonight.',
      ...(isOtherBox
        ? [
            `If every light of ${station.boxName} answers as one of ${other.boxName}, the boxes have changed addresses.`,
          ]
        : []),
    ],
    fault: null,
    offer: {
      does: 'exchange',
      with: other.key,
      says: `${other.name} here, ${station.name} there, for tonight`,
    },
  }
}
