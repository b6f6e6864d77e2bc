// The fault tree of the line check: what was seen leads by questions to a remedy that a person on the stage can do.

import type { FaultNode, Sight } from './fault-nodes.ts'
import { boxDark, everythingDark } from './faults-of-boxes.ts'
import { oneDark, wholeDark } from './faults-of-fixtures.ts'
import { anotherLights, wrongColour } from './faults-of-plugs.ts'

/**
 * The question or the remedy after the answers given so far (ids, from “what did you see?” on). Answers that do not
 * lead anywhere are left off.
 */
export function faultNodeAt(sight: Sight, answers: readonly string[]): FaultNode {
  let node = root(sight)
  for (const given of answers) {
    const answer = node.kind === 'question' ? node.answers.find(({ id }) => id === given) : undefined
    if (!answer) break
    node = answer.next()
  }
  return node
}

function root(sight: Sight): FaultNode {
  const { station, raise } = sight
  const isColour = raise === 'red' || raise === 'green' || raise === 'blue'
  const hasColours = station.slots.carries.some(({ does }) => does === 'red')
  const box =
    station.box === null
      ? []
      : [{ id: 'box', says: `All of ${station.boxName} is dark`, next: () => boxDark(sight) }]
  return {
    kind: 'question',
    asks: 'What did you see?',
    answers: [
      { id: 'whole', says: `${station.name} stays dark in every colour`, next: () => wholeDark(sight) },
      ...(hasColours
        ? [
            {
              id: 'one',
              says: isColour ? `Only its ${raise} stays dark` : 'One colour stays dark',
              next: () => oneDark(sight),
            },
          ]
        : []),
      ...(isColour
        ? [{ id: 'colour', says: 'It lights in another colour', next: () => wrongColour(sight) }]
        : []),
      { id: 'other', says: 'Another light comes on', next: () => anotherLights(sight) },
      { id: 'piece', says: 'Only a piece of it lights, or it flickers', next: () => pieceDark(sight) },
      ...box,
      { id: 'everything', says: 'Every light on the stage is dark', next: () => everythingDark(sight) },
    ],
  }
}

function pieceDark({ station }: Sight): FaultNode {
  return {
    kind: 'remedy',
    finds: 'A loose contact, or a segment of its strip that is broken',
    steps: [
      'Unplug it, look at the contacts, and put it in until it sits.',
      'Move the cable a little along its length: if the light changes, the break is there; swap the cable.',
      `If a piece stays dark, take the spare for ${station.name}; the strip is mended on the bench.`,
    ],
    fault: 'Only a piece of it lights, or it flickers',
    offer: null,
  }
}
