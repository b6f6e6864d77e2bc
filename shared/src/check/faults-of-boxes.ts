// Faults of a whole box, and of everything: supply, DMX in, address switches; the node and the network before them.

import { listText } from '../advice/words.ts'
import type { FaultNode, Offer, Sight } from './fault-nodes.ts'
import type { Station } from './stations.ts'

const without = ({ boxName }: Station): Offer => ({
  does: 'withoutBox',
  says: `Play without ${boxName}: its places go to what is left`,
})

/** All of a box is dark: supply first, then the DMX into it, then its address. */
export function boxDark(sight: Sight): FaultNode {
  const { station, rig } = sight
  const box = rig.boxes[station.box!]!
  return {
    kind: 'question',
    asks: `Is the lamp of the supply in ${station.boxName} on?`,
    knows: [`A meter across its output should say ${box.supply.volts} V.`],
    answers: [
      {
        id: 'off',
        says: 'No, it is dark',
        next: () => ({
          kind: 'remedy',
          finds: `${station.boxName} has no supply`,
          steps: [
            'Look at its switch, then its mains plug, then another outlet.',
            'If outlet and cord are good, the supply has failed: use the spare box. A supply is not opened on stage, and its mains side is for licensed hands.',
          ],
          fault: null,
          offer: without(station),
        }),
      },
      { id: 'on', says: 'Yes, it is on', next: () => dmxInto(sight) },
    ],
  }
}

function dmxInto(sight: Sight): FaultNode {
  const { station } = sight
  return {
    kind: 'question',
    asks: `Does the decoder in ${station.boxName} show that DMX comes in?`,
    knows: ['Most have a lamp that flickers or stands while data comes (common practice, no source).'],
    answers: [
      {
        id: 'none',
        says: 'No, no data',
        next: () => ({
          kind: 'remedy',
          finds: `No DMX comes to ${station.boxName}`,
          steps: [
            'See that the cable goes from the OUT of the one before to the IN of this one.',
            'Swap that cable for one that works.',
            `Boxes after it in the chain are dark too? Then the break lies before ${station.boxName}.`,
          ],
          fault: null,
          offer: null,
        }),
      },
      { id: 'data', says: 'Yes, data comes in', next: () => addressOf(sight) },
    ],
  }
}

function addressOf(sight: Sight): FaultNode {
  const { station, rig } = sight
  const box = rig.boxes[station.box!]!
  return {
    kind: 'question',
    asks: `Do its switches stand like this, for address ${box.address}?`,
    knows: ['Some decoders count from 0: theirs stand one lower, as drawn below.'],
    switches: station.box!,
    answers: [
      {
        id: 'other',
        says: 'No, they stood otherwise',
        next: () => ({
          kind: 'remedy',
          finds: 'The start address was another one',
          steps: [
            `Set the switches to ${box.address} as drawn, then switch the box off and on: many read them only then (common practice, no source).`,
            'Or type the address they had for this box in the rig.',
          ],
          fault: null,
          offer: null,
        }),
      },
      {
        id: 'same',
        says: 'Yes, like this',
        next: () => ({
          kind: 'remedy',
          finds: `Data and address are right and ${station.boxName} stays dark: its decoder, or the fuse between supply and decoder`,
          steps: [
            'See whether the decoder stands in a test or a programme of its own, and leave it.',
            'Switch off, look at the fuse between supply and decoder, and replace it by the same.',
            `See that nothing else sends to universe ${box.universe}. Else use the spare box.`,
          ],
          fault: null,
          offer: without(station),
        }),
      },
    ],
  }
}

/** Nothing lights anywhere: the way from this machine to the first box. */
export function everythingDark({ groups }: Sight): FaultNode {
  const universes = [...new Set(groups.flatMap(({ stations }) => stations.map(({ universe }) => universe)))]
  const which = `universe ${listText(universes.map(String))}`
  return {
    kind: 'question',
    asks: 'What does the top of this page say of the output?',
    answers: [
      {
        id: 'off',
        says: '“Output off”',
        next: () => ({
          kind: 'remedy',
          finds: 'Nothing leaves this machine',
          steps: [`Choose the node as the output of ${which}, on the chart at the foot.`],
          fault: null,
          offer: null,
        }),
      },
      {
        id: 'failing',
        says: 'Something fails',
        next: () => ({
          kind: 'remedy',
          finds: 'The network refuses what is sent',
          steps: [
            'See that the network cable is in at both ends and its lamps are on.',
            'The laptop and the node must be in one network: their addresses begin alike. Set the laptop to an address beside that of the node.',
          ],
          fault: null,
          offer: null,
        }),
      },
      {
        id: 'sending',
        says: 'It is sending',
        next: () => ({
          kind: 'question',
          asks: 'Does the node show that data comes in?',
          answers: [
            {
              id: 'no',
              says: 'No, or it is off',
              next: () => ({
                kind: 'remedy',
                finds: 'The node does not hear this machine',
                steps: [
                  'See that it has power and that its network lamp is on.',
                  'Look for it with “Find nodes” on the chart: no answer means another network, or a switch between that keeps them apart.',
                ],
                fault: null,
                offer: null,
              }),
            },
            {
              id: 'yes',
              says: 'Yes',
              next: () => ({
                kind: 'remedy',
                finds:
                  'It hears, and puts nothing out: its port stands on another universe, or the first DMX cable is broken',
                steps: [
                  `Compare the universe of its port with the output here (${which}).`,
                  'Swap the first DMX cable, from the node to the first box.',
                ],
                fault: null,
                offer: null,
              }),
            },
          ],
        }),
      },
    ],
  }
}
