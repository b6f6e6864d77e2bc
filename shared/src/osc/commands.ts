// Our own addresses in Open Sound Control: what each does, and what a message to one of them asks for now.

import type { Transport } from '../messages.ts'
import type { LivePatch } from '../render/live.ts'
import { type SetStep, stepsOf } from '../set/steps.ts'
import type { Show } from '../show/schema.ts'
import { timelineOf } from '../time/timeline.ts'
import type { Action } from '../trigger/action.ts'
import { type Deed, deedOf, type Situation } from '../trigger/deed.ts'
import type { OscArgument, OscMessage } from './packet.ts'
import { matchesPattern } from './pattern.ts'

export const OUR_ADDRESSES = '/glowchart/'

export interface OscDeed {
  /** What it does, in words; where it does nothing, why. */
  readonly says: string
  readonly presses: readonly Transport[]
  readonly live?: LivePatch
}

/** One of our addresses. `takes`: the value that follows it, in words; empty for a press. */
export interface OscMethod {
  readonly address: string
  readonly takes: '' | '1 or 0' | '0…1' | 'number'
  readonly does: string
  /** @param value of the message's first argument; null: none, which is a press */
  deed(value: number | null, now: Situation): OscDeed
}

const nothing = (says: string): OscDeed => ({ says, presses: [] })

const press = (name: string, does: string, action: Action, show: Show): OscMethod => ({
  address: OUR_ADDRESSES + name,
  takes: '',
  does,
  // A button that tells when it is let go of sends 0 then.
  deed: (value, now) =>
    value !== null && value <= 0.5 ? nothing('Let go') : plain(deedOf(action, show, now)),
})

const plain = ({ says, presses, live }: Deed): OscDeed => ({ says, presses, ...(live && { live }) })

const level = (name: string, does: string, set: (level: number) => Partial<OscDeed>): OscMethod => ({
  address: OUR_ADDRESSES + name,
  takes: '0…1',
  does,
  deed: value =>
    value === null || !(value >= 0 && value <= 1)
      ? nothing('A level is 0 to 1')
      : { says: `${does} at ${Math.round(value * 100)} %`, presses: [], ...set(value) },
})

const onOff = (
  name: string,
  [on, off]: [string, string],
  set: (on: boolean) => Partial<OscDeed>,
): OscMethod => ({
  address: OUR_ADDRESSES + name,
  takes: '1 or 0',
  does: on,
  deed: value => {
    const is = value === null || value > 0.5
    return { says: is ? on : off, presses: [], ...set(is) }
  },
})

const numbered = (
  name: string,
  does: string,
  deed: (number: number, now: Situation) => OscDeed,
): OscMethod => ({
  address: OUR_ADDRESSES + name,
  takes: 'number',
  does,
  deed: (value, now) =>
    value !== null && Number.isInteger(value) && value > 0
      ? deed(value, now)
      : nothing('Give its number, from 1 on'),
})

/** All our addresses in a show. Parts are named by their names: small letters and digits, all else a hyphen. */
export function oscMethods(show: Show): OscMethod[] {
  return [
    press('next', 'Next', { do: 'next' }, show),
    press('back', 'Back', { do: 'back' }, show),
    press('stop', 'Stop, hold the look', { do: 'stop' }, show),
    press('repeat', 'Repeat the section, leave the repeat', { do: 'repeat' }, show),
    press('section/next', 'A section on', { do: 'sectionOn' }, show),
    press('section/back', 'A section back', { do: 'sectionBack' }, show),
    numbered('section', 'Jump to a section', (number, now) => section(show, number, now)),
    press('song/next', 'Make the next song ready', { do: 'songOn' }, show),
    press('song/back', 'Make the song before ready', { do: 'songBack' }, show),
    numbered('song', 'Make a song of tonight ready', number => song(show, number)),
    press('house', 'House look', { do: 'house' }, show),
    onOff('strobes/stop', ['Stop the strobes', 'Let strobes flash again'], strobeStop => ({
      live: { strobeStop },
    })),
    onOff('blackout', ['Blackout', 'Restore'], blackout => ({ live: { blackout } })),
    level('grand', 'Grand master', grand => ({ live: { grand } })),
    ...show.partOrder.flatMap(part => {
      const { name } = show.parts[part]!
      return [
        level(`part/${oscName(name)}/level`, name, to => ({ live: { parts: { [part]: to } } })),
        onOff(`part/${oscName(name)}/bump`, [`Bump ${name}`, `${name} as written`], on => ({
          live: { bumps: { [part]: on ? 1 : null } },
        })),
      ]
    }),
  ]
}

/**
 * What a message to our addresses asks for: nothing for another's, one deed for each address that its pattern matches.
 * @param now the state of the engine; `show` the one it plays
 */
export function oscDeeds(message: OscMessage, show: Show, now: Situation): OscDeed[] {
  const value = numberOf(message.args[0])
  const deeds = oscMethods(show)
    .filter(({ address }) => matchesPattern(message.address, address))
    .map(method => (value === undefined ? nothing('Its value is no number') : method.deed(value, now)))
  return deeds.length > 0 ? deeds : [nothing('No such address')]
}

/** The number that an argument stands for; null where there is none (or an impulse), undefined where it is no number. */
export function numberOf(arg: OscArgument | undefined): number | null | undefined {
  if (!arg) return null
  switch (arg.type) {
    case 'N':
    case 'I':
      return null
    case 'T':
      return 1
    case 'F':
      return 0
    case 's':
    case 'b':
      return undefined
    default:
      return Number.isFinite(Number(arg.value)) ? Number(arg.value) : undefined
  }
}

/** A name as it stands in an address. */
export const oscName = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '') || 'part'

function song(show: Show, number: number): OscDeed {
  const steps = stepsOf(show)
  const place = steps.findIndex(step => step.kind === 'song' && step.number === number)
  if (place < 0) return nothing(`There is no song ${number} tonight`)
  const id = (steps[place] as Extract<SetStep, { kind: 'song' }>).song
  return {
    says: `Make ${show.songs[id]!.title} ready`,
    presses: [{ do: 'song', song: id, at: 0, place }],
  }
}

function section(show: Show, number: number, now: Situation): OscDeed {
  const song = now.song === null ? undefined : show.songs[now.song]
  if (!song) return nothing('No song stands')
  const one = timelineOf(song).sections[number - 1]
  return one
    ? plain(deedOf({ do: 'section', section: one.id }, show, now))
    : nothing(`There is no section ${number}`)
}
