// The night as a pure machine: state and a status in, state and events out. It says what changed, and each thing once.

import type { EngineStatus } from '../messages.ts'
import { secondsText } from './evening.ts'
import type { NightEvent } from './event.ts'
import { freshLapse, type Lapse, lapsed } from './lapse.ts'
import type { Names } from './names.ts'
import { type Moment, songEvents } from './songs.ts'
import { freshWires, type Wires, wireEvents } from './wires.ts'

export interface Watch {
  /** The last status; null before the first, and when nothing is known of before. */
  readonly before: EngineStatus | null
  /** When the engine fell silent, ms since 1970; null while it answers. */
  readonly silentSince: number | null
  readonly wires: Wires
  readonly lapse: Lapse
  /** Boxes that have been held back by their limit in this song, and whether a strobe has been made steady. */
  readonly held: readonly string[]
}

export const freshWatch: Watch = {
  before: null,
  silentSince: null,
  wires: freshWires,
  lapse: freshLapse,
  held: [],
}

/** @param now ms since 1970 */
export function watchStatus(
  watch: Watch,
  status: EngineStatus,
  names: Names,
  now: number,
): { watch: Watch; events: NightEvent[] } {
  const moment = momentOf(status, names, now)
  const { before, silentSince } = watch
  const events: NightEvent[] = []
  const say = (kind: NightEvent['kind'], says: string, fault = false): void => {
    events.push(eventAt(moment, kind, says, fault))
  }
  if (silentSince !== null) {
    say('engine', `The light engine is back after ${secondsText(now - silentSince)}.`)
  } else if (before && before.pid !== status.pid) say('engine', 'Another light engine has taken over.', true)

  const wires = wireEvents(watch.wires, status, now)
  const lapse = lapsed(watch.lapse, before, status, now)
  events.push(...songEvents(before, status, names, moment))
  for (const { kind, says, fault } of [...wires.said, ...lapse.said]) say(kind, says, fault)
  if (before) {
    clockWords(before, status, say)
    handWords(before, status, say)
    understudyWords(before, status, say)
  }
  const isSame = before !== null && before.song === status.song && before.look === status.look
  const known = isSame ? watch.held : []
  const held = heldNow(status).filter(one => !known.includes(one))
  for (const one of held) {
    if (one === STROBES) say('strobes', 'The limit of the venue makes strobes steady.')
    else say('power', `${names.box(one)} is held back by its power limit.`)
  }
  return {
    watch: {
      before: status,
      silentSince: null,
      wires: wires.wires,
      lapse: lapse.lapse,
      held: held.length > 0 ? [...known, ...held] : known,
    },
    events,
  }
}

/** The engine does not answer any more. */
export function watchSilence(
  watch: Watch,
  names: Names,
  now: number,
): { watch: Watch; events: NightEvent[] } {
  if (watch.silentSince !== null || !watch.before) return { watch, events: [] }
  const moment = momentOf(watch.before, names, now)
  return {
    watch: { ...watch, silentSince: now },
    events: [eventAt(moment, 'engine', 'The light engine does not answer.', true)],
  }
}

/** Stands among the boxes that are held. */
const STROBES = ' strobes'

const heldNow = ({ strobesHeld, powerHeld = [] }: EngineStatus): string[] => [
  ...(strobesHeld ? [STROBES] : []),
  ...powerHeld,
]

function momentOf(status: EngineStatus, names: Names, now: number): Moment {
  const at = new Date(now).toISOString()
  if (status.song === null) return { at }
  const place = names.place(status.song, status.position)
  return { at, song: names.song(status.song), ...place }
}

const eventAt = (moment: Moment, kind: NightEvent['kind'], says: string, fault: boolean): NightEvent => ({
  ...moment,
  kind,
  says,
  ...(fault && { fault }),
})

type Say = (kind: NightEvent['kind'], says: string, fault?: boolean) => void

const sources = { internal: 'this laptop’s own clock', midi: 'MIDI clock', mtc: 'MIDI time code' } as const

function clockWords({ clock: before }: EngineStatus, { clock }: EngineStatus, say: Say): void {
  if (clock.source !== before.source) return say('clock', `The songs run on ${sources[clock.source]} now.`)
  const name = clock.source === 'mtc' ? 'Time code' : 'The MIDI clock'
  if (clock.lock === 'lost' && before.lock !== 'lost')
    say('clock', `${name} is lost; the song goes on at the last tempo.`, true)
  else if (before.lock === 'lost' && clock.lock !== 'lost')
    say('clock', clock.lock === 'stopped' ? `${name} is back, and stopped.` : `${name} is back.`)
  else if (clock.lock === 'locked' && before.lock === 'waiting') say('clock', `${name} is heard and locked.`)
}

function handWords(before: EngineStatus, status: EngineStatus, say: Say): void {
  if (before.live.blackout !== status.live.blackout)
    say('blackout', status.live.blackout ? 'Blackout.' : 'The blackout is lifted.')
  houseWords(before, status, say)
  if (before.live.strobeStop !== status.live.strobeStop)
    say('strobes', status.live.strobeStop ? 'Strobes are stopped by hand.' : 'Strobes may flash again.')
  if (before.check !== status.check && (before.check === 'on' || status.check === 'on'))
    say('check', status.check === 'on' ? 'A line check begins.' : 'The line check ends.')
  if (before.version !== status.version) {
    const which = status.version === null ? 'The draft sounds' : `Version ${status.version.slice(0, 8)} runs`
    say('version', `${which} now.`)
  }
  for (const port of before.midi.ports)
    if (!status.midi.ports.includes(port)) say('port', `The MIDI port ${port} is gone.`, true)
  for (const port of status.midi.ports)
    if (!before.midi.ports.includes(port)) say('port', `The MIDI port ${port} is open.`)
}

function houseWords({ house: before }: EngineStatus, { house }: EngineStatus, say: Say): void {
  if (before.blackout !== house.blackout)
    say('blackout', house.blackout ? 'The house blacks out.' : 'The house lets the light come back.')
  if (before.state === house.state) return
  if (house.state === 'lost')
    say('house', 'The desk of the house is not heard any more; what it held stays.', true)
  else if (house.state === 'heard')
    say(
      'house',
      before.state === 'lost' ? 'The desk of the house is heard again.' : 'The desk of the house is heard.',
    )
}

/** Told by role, and by whether it could take over: what is compared ten times a second is no news. */
function understudyWords({ understudy: before }: EngineStatus, { understudy }: EngineStatus, say: Say): void {
  const { state, partner, says } = understudy
  if (state !== before.state) {
    if (state === 'leads')
      say('understudy', before.state === 'follows' ? `This laptop leads now. ${says}.` : `${says}.`)
    else if (state === 'follows') say('understudy', `This laptop follows ${partner?.name ?? 'another'} now.`)
    else if (before.partner) say('understudy', `${before.partner.name} is no understudy any more.`)
    return
  }
  if (understudy.well === before.well || !partner) return
  if (understudy.well === 'stop') say('understudy', `${says}.`, true)
  else if (understudy.well === 'good') say('understudy', `${says}.`)
}
