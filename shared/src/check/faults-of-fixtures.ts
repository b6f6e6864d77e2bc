// Faults of one light: a colour that stays dark, or all of them. Who is to blame is found by plugging it in elsewhere.

import { turnsOf } from '../rig/contacts.ts'
import { type FaultNode, plugText, type Sight, socketOf } from './fault-nodes.ts'
import type { Raise } from './raise.ts'
import { slotText } from './slots.ts'

type Colour = 'red' | 'green' | 'blue' | 'white'

/** One colour is dark: a conductor, an output, or the fixture itself. */
export function oneDark(sight: Sight): FaultNode {
  const { station, raise } = sight
  if (raise === 'red' || raise === 'green' || raise === 'blue') return colourDark(sight, raise)
  const { carries } = station.slots
  const colours = (['red', 'green', 'blue', 'white'] as const).filter(c =>
    carries.some(({ does }) => does === c),
  )
  return {
    kind: 'question',
    asks: 'Which colour stays dark?',
    answers: colours.map(colour => ({
      id: colour,
      says: named(colour),
      next: () => colourDark(sight, colour),
    })),
  }
}

function colourDark(sight: Sight, colour: Colour): FaultNode {
  const { station } = sight
  const slot = slotText(station.slots, colour)
  if (station.box === null) {
    return {
      kind: 'remedy',
      finds: `${station.name} does not follow slot ${slot}`,
      steps: [
        'Compare the mode on its display with the build: another mode has other channels.',
        'Look whether a colour of it is switched off or locked in its menu.',
      ],
      fault: `No ${colour}`,
      offer: null,
    }
  }
  return {
    kind: 'question',
    asks: `Plug ${station.name} into another socket, one that passed. Does its ${colour} light there?`,
    knows: [`Choose that socket on the strip to raise it; ${plugText(station)} waits.`],
    raise: colour,
    answers: [
      {
        id: 'there',
        says: `Yes, its ${colour} lights there`,
        next: () => ({
          kind: 'remedy',
          finds: `The light is sound: the ${colour} conductor of the cable, or output ${slot} of ${station.boxName}`,
          steps: [
            'Swap the cable of this socket. If it is dark still, the output of the decoder is dead.',
            `Leave it in the other socket for tonight, and plug something that needs no ${colour} in here.`,
            'An output that died had too much to carry: look for bare strands that touch before it is used again.',
          ],
          fault: null,
          offer: null,
        }),
      },
      {
        id: 'nowhere',
        says: 'No, it is dark there too',
        next: () => ({
          kind: 'remedy',
          finds: `The ${colour} of ${station.name} itself: its plug, a solder joint or the strip`,
          steps: [
            'Unscrew the plug and look at the joint of that contact.',
            `Take the spare for tonight; ${station.name} stays on the list until it is mended.`,
          ],
          fault: `No ${colour}`,
          offer: null,
        }),
      },
      {
        id: 'later',
        says: 'No time for that now',
        next: () => ({
          kind: 'remedy',
          finds: `Either the ${colour} of ${station.name}, or its cable, or output ${slot}`,
          steps: ['Written down as it was seen; try it in another socket at the bench.'],
          fault: `No ${colour}, not yet known whether light, cable or socket`,
          offer: null,
        }),
      },
    ],
  }
}

/** All of a light is dark: how it is turned, its fuse, the common conductor; in the order of how quickly each is seen. */
export function wholeDark(sight: Sight): FaultNode {
  const { station } = sight
  if (station.box === null) return guestDark(sight)
  return {
    kind: 'question',
    asks: 'Unplug it, turn the plug to its mark, and put it in again. Does it light now?',
    knows: [
      ...turnsOf(station.build?.contacts ?? []).map(({ says }) => says),
      'A keyed plug goes in one way only: then the answer is no.',
    ],
    answers: [
      {
        id: 'turned',
        says: 'Yes, it was turned',
        next: () => ({
          kind: 'remedy',
          finds: 'The plug was turned in its socket',
          steps: [
            'Mark plug and socket with tape or paint where they meet.',
            'Press “Check it again” and pass it when every colour is right.',
          ],
          fault: null,
          offer: null,
        }),
      },
      { id: 'dark', says: 'No, dark in every turn', next: () => fuseBlown(sight) },
    ],
  }
}

function fuseBlown(sight: Sight): FaultNode {
  const fuse = socketOf(sight)?.fuse
  if (fuse === undefined) return anotherInItsPlace(sight)
  const shorts = turnsOf(sight.station.build?.contacts ?? []).filter(({ short }) => short)
  return {
    kind: 'question',
    asks: `Look at the fuse of this socket, ${fuse} A. Is it blown?`,
    knows: ['Switch the supply of the box off before a fuse is touched.'],
    answers: [
      {
        id: 'blown',
        says: 'Yes, it is blown',
        next: () => ({
          kind: 'remedy',
          finds: 'The fuse of this socket is blown: something drew more than its cable may carry',
          steps: [
            `Leave ${sight.station.name} unplugged. Put in a fuse of the same ${fuse} A, never a larger one.`,
            'Plug in another light of the same kind. If that fuse holds, the first light or its cable has a short.',
            ...shorts.map(({ says }) => says),
            'If it blows again, leave the socket empty tonight.',
          ],
          fault: 'Blew its fuse: look for a short in the light and its cable',
          offer: null,
        }),
      },
      { id: 'whole', says: 'No, it is whole', next: () => anotherInItsPlace(sight) },
    ],
  }
}

function anotherInItsPlace(sight: Sight): FaultNode {
  const { station } = sight
  return {
    kind: 'question',
    asks: 'Plug a light that passed in here. Does it light?',
    answers: [
      {
        id: 'lights',
        says: `Yes: ${station.name} is at fault`,
        next: () => ({
          kind: 'remedy',
          finds: `${station.name} itself: the common conductor in its plug, or its feed`,
          steps: [
            'Unscrew the plug and look at the joint of the common contact.',
            'Take the spare for tonight.',
          ],
          fault: 'Stays dark in every colour',
          offer: null,
        }),
      },
      {
        id: 'dark',
        says: 'No: that one is dark too',
        next: () => ({
          kind: 'remedy',
          finds: `The common conductor of the cable, or the common contact of ${plugText(station)}`,
          steps: ['Swap the cable.', 'If it stays dark, leave this socket empty tonight and use a free one.'],
          fault: null,
          offer: null,
        }),
      },
      {
        id: 'later',
        says: 'No time for that now',
        next: () => ({
          kind: 'remedy',
          finds: `Either ${station.name}, or its cable, or ${plugText(station)}`,
          steps: ['Written down as it was seen; try it in another socket at the bench.'],
          fault: 'Stays dark, not yet known whether light, cable or socket',
          offer: null,
        }),
      },
    ],
  }
}

function guestDark({ station }: Sight): FaultNode {
  const { universe, slots } = station
  return {
    kind: 'question',
    asks: `Does its display say address ${slots.first}?`,
    knows: [`It stands in the patch on universe ${universe}, slots ${slots.first} to ${slots.last}.`],
    answers: [
      {
        id: 'other',
        says: 'No, another address',
        next: () => ({
          kind: 'remedy',
          finds: 'It listens to another address',
          steps: [`Set it to ${slots.first} in its menu, or type the address it has in the kit.`],
          fault: null,
          offer: null,
        }),
      },
      {
        id: 'same',
        says: 'Yes, the same',
        next: () => ({
          kind: 'remedy',
          finds: 'Its mode is another one, or no DMX comes to it',
          steps: [
            'Compare the mode on its display with the build.',
            'Look at the DMX cable into it: swap it for one that works, and see that it goes in at IN.',
            'See that its dimmer or shutter is not closed by hand in its menu.',
          ],
          fault: 'Stays dark with address and cable right',
          offer: null,
        }),
      },
      {
        id: 'off',
        says: 'Its display is dark',
        next: () => ({
          kind: 'remedy',
          finds: 'It has no mains',
          steps: ['Look at its switch and its plug. Anything behind the plug is for licensed hands.'],
          fault: null,
          offer: null,
        }),
      },
    ],
  }
}

const named = (colour: Raise): string => colour.charAt(0).toUpperCase() + colour.slice(1)
