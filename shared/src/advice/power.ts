// Advice on power: sockets that carry more than their parts may, and supplies that a song loads too much.

import { type BoxLoad, boxLoad, type LoadFault, type SocketLoad } from '../power/box.ts'
import type { BoxPeak } from '../power/meter.ts'
import type { Box, Rig } from '../rig/schema.ts'
import type { Kit, Show } from '../show/schema.ts'
import { barStart } from '../time/meter.ts'
import { sectionAt, type Timeline } from '../time/timeline.ts'
import type { Advice } from './advice.ts'
import { joinedBars, listText } from './words.ts'

const ESTIMATE = 'Figures are estimates: check them with a meter. Local electrical code comes first.'

/** One piece of advice a socket whose plug, cable, fuse or decoder output is loaded beyond what it may carry. */
export const socketsAdvice = (rig: Rig, kit: Kit): Advice[] =>
  Object.keys(kit.boxes).flatMap(id => {
    const load = boxLoad(rig, kit, id)
    return load ? load.sockets.flatMap(socket => socketAdvice(rig.boxes[id]!, load, socket)) : []
  })

const amps = (value: number): string => `${Math.round(value * 100) / 100} A`

function socketAdvice(box: Box, load: BoxLoad, socket: SocketLoad): Advice[] {
  if (socket.faults.length === 0) return []
  const wired = box.sockets.find(s => s.id === socket.socket)!
  const limit = socket.fuses[0]!.limit
  const words: Record<LoadFault, [says: string, remedy: string]> = {
    contact: [
      `the common contact carries ${amps(socket.amps)} of ${amps(wired.contactAmps)}`,
      'use a plug with stronger contacts, or share the light over two sockets',
    ],
    output: [
      `a colour takes more than an output's ${amps(box.decoder.ampsPerChannel)}`,
      'use a decoder with stronger outputs, or a shorter strip',
    ],
    fuseSmall: [
      `the fuse of ${amps(wired.fuse ?? 0)} goes at ${amps(socket.amps)}`,
      'put in the fuse that the rig page proposes',
    ],
    fuseLarge: [
      `the fuse of ${amps(wired.fuse ?? 0)} does not protect a conductor that may have ${amps(limit ?? 0)}`,
      'put in a smaller fuse, or a thicker cable',
    ],
    noFuse: [
      limit === null
        ? 'the code’s table has no fuse for a conductor so thin'
        : `no legal fuse: ${amps(socket.amps)} is too much for a conductor that may have ${amps(limit)}`,
      'use a thicker cable, or a shorter strip',
    ],
    conductors: [
      `its cable has ${wired.cable.conductors} conductors, too few for its colours and a common`,
      'use a cable with more conductors',
    ],
  }
  const says = socket.faults.map(fault => words[fault][0])
  const remedies = [...new Set(socket.faults.map(fault => words[fault][1]))]
  return [
    {
      kind: 'socketLoad',
      severity: 'heed',
      place: { boxes: [load.box], socket: socket.socket, fixtures: [socket.fixture] },
      says: `${box.name}, socket ${socket.label}, ${socket.name} full on: ${listText(says)}.`,
      remedy: `${sentence(listText(remedies))}. ${ESTIMATE}`,
      source: 'NEC 2023 240.4(D) for conductors; ISO 8820-3 for blade fuses.',
    },
  ]
}

const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** One piece of advice a box whose armed limit dims a song: what is seen is not what is written. */
export function limitAdvice(
  rig: Rig,
  show: Show,
  song: string,
  timeline: Timeline,
  peaks: readonly BoxPeak[],
): Advice[] {
  return peaks.flatMap(({ box, dimmed }): Advice[] => {
    if (!dimmed) return []
    const { name } = rig.boxes[box]!
    const section = sectionAt(timeline, barStart(timeline.meters, dimmed.bar))
    const left = Math.round(dimmed.factor * 100)
    return [
      {
        kind: 'powerLimited',
        severity: 'note',
        place: {
          song,
          ...(section && { section: section.id }),
          bars: [{ from: dimmed.bar + 1, to: dimmed.bar + 1 }],
          boxes: [box],
        },
        brief: `${name} held to ${left} % of its light`,
        says: `“${show.songs[song]!.title}”, bar ${dimmed.bar + 1}: the power limit holds all lights of ${name} to ${left} % of what is written, here the most.`,
        remedy: `Nothing needs to be done. For the light as written, lower what else ${name} feeds here, or raise its limit as far as its supply allows.`,
      },
    ]
  })
}

/** One piece of advice a box that a song loads beyond its continuous share: beyond the supply itself it must not be. */
export function supplyAdvice(
  rig: Rig,
  show: Show,
  song: string,
  timeline: Timeline,
  peaks: readonly BoxPeak[],
): Advice[] {
  return peaks.flatMap((peak): Advice[] => {
    const { supply, name } = rig.boxes[peak.box]!
    const may = supply.amps * supply.continuousShare
    if (peak.amps <= may + 1e-6) return []
    const isOver = peak.amps > supply.amps
    const over = [...peak.bars].flatMap((most, bar) =>
      most > may + 1e-6 ? [{ from: bar + 1, to: bar + 1 }] : [],
    )
    const section = sectionAt(timeline, barStart(timeline.meters, peak.bar))
    const share = Math.round(supply.continuousShare * 100)
    return [
      {
        kind: 'supplyLoad',
        severity: isOver ? 'stop' : 'heed',
        place: {
          song,
          ...(section && { section: section.id }),
          bars: joinedBars(over),
          boxes: [peak.box],
        },
        amps: peak.amps,
        brief: `${name} gives ${amps(peak.amps)}, limit ${amps(may)}`,
        says: `“${show.songs[song]!.title}”, bar ${peak.bar + 1}: ${name} gives ${amps(peak.amps)}. Limit ${share} % of ${amps(supply.amps)}.`,
        remedy: `Arm a power limit of ${amps(may)} on ${name}, lower its cues here, or take a light off it. ${ESTIMATE}`,
        source: `${share} % of a supply for long: common practice, no source.`,
      },
    ]
  })
}
