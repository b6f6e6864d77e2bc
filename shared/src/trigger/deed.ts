// What an action would do now: one pure answer for the page that shows it and for the pedal that does it.

import type { EngineStatus, Transport } from '../messages.ts'
import { type LivePatch, stepped } from '../render/live.ts'
import { type Countdown, countdownAt } from '../set/countdown.ts'
import { type SetStep, setPlace, stepAt, stepsOf } from '../set/steps.ts'
import type { Show } from '../show/schema.ts'
import { barBeatAt } from '../time/meter.ts'
import { type Timeline, timelineOf } from '../time/timeline.ts'
import { ticks } from '../time/units.ts'
import type { Action } from './action.ts'

/** The state that an action's meaning depends on. */
export type Situation = Pick<
  EngineStatus,
  'song' | 'look' | 'place' | 'playing' | 'position' | 'loop' | 'released' | 'repeated'
> & {
  readonly clock: Pick<EngineStatus['clock'], 'source'>
  readonly live: Pick<EngineStatus['live'], 'strobeStop' | 'grand' | 'parts'>
  /** Left out by who needs no words. */
  readonly check?: EngineStatus['check']
}

export interface Deed {
  /** What it does, in words; where it does nothing, why. */
  readonly says: string
  /** What follows from it, or when it will mean something else. */
  readonly more?: string
  /** In this order; none: it does nothing now. */
  readonly presses: readonly Transport[]
  readonly live?: LivePatch
  /** For a held action: what letting go of it does. */
  readonly letGo?: LivePatch
}

const nothing = (says: string, more?: string): Deed => ({ says, presses: [], ...(more && { more }) })
const press = (says: string, presses: Transport[], more?: string): Deed => ({
  says,
  presses,
  ...(more && { more }),
})

/** @param show the show that the engine plays */
export function deedOf(action: Action, show: Show, now: Situation): Deed {
  const set = setAt(show, now)
  switch (action.do) {
    case 'next':
      return set.playing ? onward(set.playing) : forward(set)
    case 'back':
      return set.playing ? sectionBack(set.playing) : backward(set)
    case 'stop':
      return stop(now)
    case 'repeat':
      return set.playing ? repeat(set.playing) : nothing('Repeat the section', 'While a song plays.')
    case 'sectionOn':
      return sectionOn(set)
    case 'sectionBack':
      return set.song ? sectionBack(set.song) : nothing('A section back', 'No song stands.')
    case 'songOn':
      return toSong(set, 1)
    case 'songBack':
      return toSong(set, -1)
    case 'song':
      return song(set, action.song)
    case 'section':
      return section(set, action.section)
    case 'tapTempo':
      return ownClock(now, 'Tap the tempo', [{ do: 'tap' }], 'From the third tap on')
    case 'nudgeOn':
      return ownClock(now, 'Nudge on', [{ do: 'nudge', ms: NUDGE_MS }], `${NUDGE_MS} ms`)
    case 'nudgeBack':
      return ownClock(now, 'Nudge back', [{ do: 'nudge', ms: -NUDGE_MS }], `${NUDGE_MS} ms`)
    case 'house':
      return house(set)
    case 'strobeStop':
      return now.live.strobeStop
        ? { says: 'Let strobes flash again', presses: [], live: { strobeStop: false } }
        : { says: 'Stop the strobes', presses: [], live: { strobeStop: true } }
    case 'master':
      return master(show, now, action)
    case 'blackout':
      return {
        says: 'Blackout',
        more: 'Let go: lights return',
        presses: [],
        live: { blackout: true },
        letGo: { blackout: false },
      }
    case 'bump': {
      const says = `${show.parts[action.part]?.name ?? 'Part'} full`
      return {
        says,
        more: 'While held',
        presses: [],
        live: { bumps: { [action.part]: 1 } },
        letGo: { bumps: { [action.part]: null } },
      }
    }
  }
}

/** A song that stands, and where in it. */
interface At {
  readonly show: Show
  readonly now: Situation
  readonly song: string
  readonly timeline: Timeline
  readonly countdown: Countdown | null
  name(section: string): string
}

interface SetAt {
  readonly show: Show
  readonly now: Situation
  readonly steps: readonly SetStep[]
  readonly index: number
  readonly song: At | null
  readonly playing: At | null
}

function setAt(show: Show, now: Situation): SetAt {
  const steps = stepsOf(show)
  const found = setPlace(show, steps, now)
  const song = now.song !== null && show.songs[now.song] ? placeIn(show, now, now.song) : null
  return {
    show,
    now,
    steps,
    // What is none of the set stands where it was called from.
    index: found >= 0 ? found : (now.place ?? -1),
    song,
    playing: now.playing ? song : null,
  }
}

const laidOut = new WeakMap<object, Timeline>()

function placeIn(show: Show, now: Situation, id: string): At {
  const song = show.songs[id]!
  const timeline = laidOut.get(song) ?? timelineOf(song)
  laidOut.set(song, timeline)
  const countdown = countdownAt(timeline, ticks(now.position), now)
  return { show, now, song: id, timeline, countdown, name: section => song.sections[section]!.name }
}

/** Next, while a song plays: leave what repeats, or play the section once more. */
function onward(at: At): Deed {
  const { countdown } = at
  if (!countdown) return nothing('The song ends')
  const step = at.show.songs[at.song]!.stepped ? stepOn(at, countdown) : null
  if (step) return step
  const left = leave(at, countdown)
  if (left) return left
  const { id, start, end, vamp } = countdown.section
  if (vamp) return nothing('Leaving the vamp', `${goal(at, countdown)} comes at its end.`)
  const vampAhead = at.timeline.sections.find(s => s.vamp && s.start >= end)
  return press(
    `Play ${at.name(id)} once more`,
    [{ do: 'loop', span: { from: start, to: end, once: true } }],
    vampAhead && `From bar ${vampAhead.firstBar + 1}: leave the vamp`,
  )
}

/** In a stepped song: the next section, at once; null in the last one, which is left at its end. */
function stepOn(at: At, { section }: Countdown): Deed | null {
  const next = at.timeline.sections[section.index + 1]
  if (!next) return null
  return press(
    `Step to ${at.name(next.id)}`,
    [
      { do: 'loop', span: null },
      { do: 'locate', at: next.start },
    ],
    'At once',
  )
}

/** Leaves the repeat that sounds; null where nothing repeats. */
function leave(at: At, countdown: Countdown): Deed | null {
  const { loop } = at.now
  const { section, round, next } = countdown
  if (next?.id === section.id && loop?.once)
    return press(`Do not repeat ${at.name(section.id)}`, [{ do: 'loop', span: null }])
  if (round === null) return null
  const more = `${goal(at, { ...countdown, next: at.timeline.sections[section.index + 1] ?? null })} comes at its end`
  if (loop && loop.to <= section.end && loop.from <= at.now.position && at.now.position < loop.to)
    return press('Leave the repeat', [{ do: 'loop', span: null }], more)
  return press('Leave the vamp', [{ do: 'release' }], more)
}

const goal = (at: At, { next }: Countdown): string => (next ? at.name(next.id) : 'The end of the song')

function repeat(at: At): Deed {
  const { countdown } = at
  if (!countdown) return nothing('The song ends')
  const { id, start, end } = countdown.section
  return (
    leave(at, countdown) ??
    press(`Repeat ${at.name(id)}`, [{ do: 'loop', span: { from: start, to: end } }], 'Until it is left')
  )
}

/** Whose Start and Stop the song obeys; null on our own clock. */
const follows = ({ clock }: Situation): string | null =>
  clock.source === 'internal' ? null : clock.source === 'midi' ? 'The MIDI clock' : 'The time code'

/** About what is just heard as early or late in a band, and under a frame at 40 a second (common practice, no source). */
const NUDGE_MS = 20

/** What only our own clock can do. */
function ownClock(now: Situation, says: string, presses: Transport[], more: string): Deed {
  const ruler = follows(now)
  return ruler ? nothing(says, `${ruler} sets the tempo.`) : press(says, presses, more)
}

/** Next, while nothing plays: the song that rests, or the step that follows. */
function forward(set: SetAt): Deed {
  const { now, song } = set
  if (song && now.position < song.timeline.length) {
    const { title } = set.show.songs[song.song]!
    const starter = follows(now)
    if (starter) return nothing(`${title} is ready`, `${starter} starts it.`)
    if (now.position === 0) return press(`Start ${title}`, [{ do: 'play' }])
    return press(`Go on from ${barName(song)}`, [{ do: 'play' }], title)
  }
  const place = set.index + 1
  const step = set.steps[place]
  return step ? toStep(set, step, place, true) : nothing('The set is over')
}

const barName = ({ timeline, now }: At): string =>
  `bar ${barBeatAt(timeline.meters, ticks(now.position)).bar + 1}`

/** @param starts a song is started too, where it is ours to start */
function toStep(set: SetAt, step: SetStep, place: number, starts: boolean): Deed {
  if (step.kind === 'look') {
    const { name } = set.show.looks[step.look]!
    return press(name, [{ do: 'look', look: step.look, place }], lookWords[step.when])
  }
  const { title } = set.show.songs[step.song]!
  const ready: Transport = { do: 'song', song: step.song, at: 0, place }
  if (!starts) return press(`Make ${title} ready`, [ready])
  const starter = follows(set.now)
  if (starter) return press(`Make ${title} ready`, [ready], `${starter} starts it.`)
  return press(`Start ${title}`, [ready, { do: 'play' }], step.note)
}

const lookWords = {
  walkIn: 'The look before the set',
  change: 'The look between songs',
  end: 'The look after the set',
} as const

function backward(set: SetAt): Deed {
  const { now, song } = set
  if (song && now.position > 0)
    return press('Back to the start', [{ do: 'locate', at: 0 }], set.show.songs[song.song]!.title)
  const place = set.index - 1
  const step = set.steps[place]
  if (!step) return nothing('The set begins here')
  return { ...toStep(set, step, place, false), says: `Back to ${stepName(set.show, step)}` }
}

export const stepName = (show: Show, step: SetStep): string =>
  step.kind === 'song' ? show.songs[step.song]!.title : show.looks[step.look]!.name

/** Back to the section's start; within its first bar, to that of the one before. */
function sectionBack(at: At): Deed {
  const { sections } = at.timeline
  const here = at.countdown?.section ?? sections.at(-1)
  if (!here) return nothing('A section back', 'The song has no sections.')
  const target = at.countdown?.bar === 1 ? (sections[here.index - 1] ?? here) : here
  return press(`Back to ${at.name(target.id)}`, [{ do: 'locate', at: target.start }])
}

function sectionOn({ song }: SetAt): Deed {
  const next = song?.countdown && song.timeline.sections[song.countdown.section.index + 1]
  if (!song || !next) return nothing('A section on', 'There is none.')
  return press(`On to ${song.name(next.id)}`, [{ do: 'locate', at: next.start }])
}

function section({ song }: SetAt, id: string): Deed {
  const span = song?.timeline.sections.find(one => one.id === id)
  if (!song || !span) return nothing('Jump to a section', 'It is not in this song.')
  return press(`Jump to ${song.name(id)}`, [{ do: 'locate', at: span.start }])
}

function toSong(set: SetAt, by: 1 | -1): Deed {
  for (let place = set.index + by; place >= 0 && place < set.steps.length; place += by) {
    const step = set.steps[place]!
    if (step.kind === 'song') return toStep(set, step, place, false)
  }
  return nothing(by === 1 ? 'There is no song after it' : 'There is no song before it')
}

function song(set: SetAt, id: string): Deed {
  if (!set.show.songs[id]) return nothing('A song', 'It is not in this show.')
  const place = stepAt(set.steps, { song: id, look: null, place: set.index })
  const ready: Transport = { do: 'song', song: id, at: 0, ...(place >= 0 && { place }) }
  return press(`Make ${set.show.songs[id].title} ready`, [ready])
}

function lightOf(check: Situation['check']): string {
  if (check === 'on') return 'A line check has the lights.'
  return check === 'dark' ? 'Dark since the line check.' : 'The look is held.'
}

function stop(now: Situation): Deed {
  if (!now.playing) return nothing('Stopped', lightOf(now.check))
  const starter = follows(now)
  if (starter) return nothing('Stop', `${starter} stops it.`)
  return press('Stop', [{ do: 'stop' }], 'Holds the look')
}

function master(show: Show, { live }: Situation, { by, part }: Extract<Action, { do: 'master' }>): Deed {
  const name = part === undefined ? 'Grand master' : (show.parts[part]?.name ?? 'Part')
  const stands = part === undefined ? live.grand : (live.parts[part] ?? 1)
  const level = stepped(stands, by)
  if (level === stands) return nothing(`${name} at ${Math.round(100 * stands)} %`, 'No further.')
  return {
    says: `${name} to ${Math.round(100 * level)} %`,
    presses: [],
    live: { steps: part === undefined ? { grand: by } : { parts: { [part]: by } } },
  }
}

function house({ show, index }: SetAt): Deed {
  const list = show.tonightList === undefined ? undefined : show.setLists[show.tonightList]
  if (list?.house === undefined) return nothing('House look', 'The set list names none.')
  const { name } = show.looks[list.house]!
  return press(
    name,
    [{ do: 'look', look: list.house, ...(index >= 0 && { place: index }) }],
    'The house look; the song is left',
  )
}
