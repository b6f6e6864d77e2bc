// The changeover: what is carried and plugged in which order, and how much of the time is left.

import { counted, listText } from '../advice/words.ts'
import type { Rig } from '../rig/schema.ts'
import { apart, type Group } from './stations.ts'

export interface ChangeoverStep {
  readonly id: string
  readonly says: string
  /** More to know, and what to take care of; empty when there is nothing. */
  readonly note: string
}

/**
 * Everything between two bands in walking order: boxes, mains, DMX cable, stands, plugs, check. The number of outlets
 * and cables: one outlet a box, and one DMX cable from box to box after the one from the node (common practice, no
 * source).
 */
export function changeoverSteps(rig: Rig, groups: readonly Group[]): ChangeoverStep[] {
  const boxes = groups.flatMap(group => (group.box === null ? [] : [{ ...group, id: group.box }]))
  const guests = groups.find(group => group.box === null)?.stations ?? []
  const steps: ChangeoverStep[] = boxes.map(({ id, name, where }) => ({
    id: `place-${id}`,
    says: `Place ${name}`,
    note: where,
  }))
  if (boxes.length > 0) {
    steps.push({
      id: 'mains',
      says: `Mains to ${listText(boxes.map(({ name }) => name))}: ${counted(boxes.length, 'outlet')}`,
      note: 'Mains are for licensed hands where the local code says so. Supplies stay closed, off the wet floor and off each other.',
    })
    const chain = ['node', ...boxes.map(({ name }) => name)].join(' → ')
    const lengths = boxes.slice(1).map((box, i) => {
      const metres = box.place && boxes[i]!.place ? apart(boxes[i]!.place, box.place) : 0
      return `${boxes[i]!.name} to ${box.name} ${metres.toFixed(1)} m as the crow flies`
    })
    steps.push({
      id: 'dmx',
      says: `DMX ${counted(boxes.length, 'cable')}: ${chain}`,
      note: [
        ...lengths,
        'Cables across a way people walk are a trip hazard: tape or cover them, or go round.',
      ].join('. '),
    })
  }
  for (const { id, name, stations } of boxes) {
    const filled = stations.filter(({ fixture }) => fixture !== null)
    if (filled.length === 0) continue
    steps.push({
      id: `stand-${id}`,
      says: `Stands of ${name}: ${counted(filled.length, 'light')}`,
      note: listText(
        filled.map(station => station.name),
        12,
      ),
    })
  }
  for (const { id, name, stations } of boxes) {
    const filled = stations.filter(({ fixture }) => fixture !== null)
    if (filled.length === 0) continue
    steps.push({
      id: `plug-${id}`,
      says: `Plug into ${name}, ${filled.map(({ label }) => label).join(' ')}`,
      note: rig.boxes[id]?.sockets.some(({ fuse }) => fuse === undefined)
        ? 'Not every output of it is fused: keep to the cable it was built for.'
        : '',
    })
  }
  if (guests.length > 0) {
    steps.push({
      id: 'guests',
      says: `Guests: ${listText(guests.map(({ name }) => name))}`,
      note: guests.map(({ name, universe, slots }) => `${name} on ${universe}/${slots.first}`).join(', '),
    })
  }
  return [...steps, { id: 'check', says: 'Line check', note: '' }]
}

export interface Countdown {
  /** Ms it is set to. */
  readonly of: number
  /** Ms that had run when it was last paused. */
  readonly ran: number
  /** When it was last started, ms of the clock that is told; null while it is paused. */
  readonly started: number | null
}

/** Five minutes between bands. */
export const freshCountdown: Countdown = { of: 300_000, ran: 0, started: null }

/** Ms left; below 0 it is over time. */
export const leftOf = ({ of, ran, started }: Countdown, now: number): number =>
  of - ran - (started === null ? 0 : now - started)

export const startedAt = (countdown: Countdown, now: number): Countdown =>
  countdown.started === null ? { ...countdown, started: now } : countdown

export const pausedAt = (countdown: Countdown, now: number): Countdown =>
  countdown.started === null
    ? countdown
    : { ...countdown, ran: countdown.ran + now - countdown.started, started: null }

/** “3:42”; over time “+0:07”. Whole seconds, as they are begun. */
export function clockText(ms: number): string {
  const seconds = ms >= 0 ? Math.ceil(ms / 1000) : Math.floor(-ms / 1000)
  return `${ms < 0 ? '+' : ''}${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
}
