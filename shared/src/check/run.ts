// The course of a line check: a pure machine. Each press or tick of the clock gives the next state; the clock is told.

import type { Raise } from './raise.ts'

/**
 * `ready`: nothing is held on the wire; `glow`: all lights a little, for plugging up; `checking`: one raise at one
 * station; `asking`: it failed, its light stays up while the fault is looked for; `halted`: it failed and is written
 * down, dark, so that hands may go in; `done`: every station has been passed or failed.
 */
export type Mode = 'ready' | 'glow' | 'checking' | 'asking' | 'halted' | 'done'

export interface Verdict {
  readonly passed: boolean
  /** Why it failed, in words; empty when it passed. */
  readonly reason: string
}

export interface Run {
  readonly mode: Mode
  /** Key of the station; empty before the first. */
  readonly at: string
  readonly raise: Raise
  /** When that was raised, ms of the clock that is told. */
  readonly since: number
  /** Raises the next by itself, every `STEP` ms. */
  readonly auto: boolean
  /** Raised at this station by now. */
  readonly seen: readonly Raise[]
  /** While asking: the other station that is raised in its place, to try a plug there; empty: none. */
  readonly trying: string
  readonly verdicts: Readonly<Record<string, Verdict>>
  /** What the last verdict took the place of, and until when it may be taken back. */
  readonly undo: { readonly until: number; readonly run: Run } | null
}

/** A stop of the walk as the machine needs it: a station that has something to raise. */
export interface Stop {
  readonly key: string
  readonly raises: readonly Raise[]
}

/** How long each raise stands in the automatic step, ms. */
export const STEP = 1000
/** How long a verdict may be taken back, ms. */
export const UNDO = 10_000

export type Press =
  | { do: 'start'; at?: string; verdicts?: Run['verdicts'] }
  | { do: 'glow' }
  | { do: 'pass' }
  | { do: 'fail' }
  /** Writes the fault down: the light goes out. */
  | { do: 'note'; reason: string }
  /** Raises the same station again, after a remedy. */
  | { do: 'again' }
  | { do: 'raise'; raise: Raise }
  | { do: 'auto'; on: boolean }
  | { do: 'go'; at: string }
  | { do: 'step'; by: 1 | -1 }
  | { do: 'next' }
  | { do: 'undo' }
  | { do: 'end' }
  | { do: 'tick' }

export const freshRun: Run = {
  mode: 'ready',
  at: '',
  raise: 'red',
  since: 0,
  auto: true,
  seen: [],
  trying: '',
  verdicts: {},
  undo: null,
}

/**
 * The state after a press. A press that means nothing now changes nothing (the same object comes back).
 * @param stops in walking order, without the empty sockets. @param now ms, of any clock that does not go back
 */
export function pressed(run: Run, press: Press, stops: readonly Stop[], now: number): Run {
  const stop = stops.find(({ key }) => key === run.at)
  switch (press.do) {
    case 'start': {
      const begun = { ...run, verdicts: press.verdicts ?? {}, undo: null }
      return goTo(begun, press.at ?? nextOf(begun, stops) ?? stops[0]?.key, stops, now)
    }
    case 'glow':
      return run.mode === 'glow' ? { ...run, mode: 'ready' } : { ...run, mode: 'glow', undo: null }
    case 'pass': {
      if (run.mode !== 'checking' && run.mode !== 'asking') return run
      return onward(judged(run, { passed: true, reason: '' }, now), stops, now)
    }
    case 'fail':
      return run.mode === 'checking' ? { ...run, mode: 'asking', auto: false } : run
    case 'note':
      if (run.mode !== 'asking') return run
      return { ...judged(run, { passed: false, reason: press.reason }, now), mode: 'halted', trying: '' }
    case 'again':
      return run.mode === 'asking' || run.mode === 'halted' ? goTo(run, run.at, stops, now) : run
    case 'raise':
      if (!stop?.raises.includes(press.raise)) return run
      if (run.mode !== 'checking') return run
      return { ...raisedAt(run, press.raise, now), auto: false }
    case 'auto':
      return press.on === run.auto ? run : { ...run, auto: press.on, since: now }
    case 'go':
      if (run.mode !== 'asking') return goTo(run, press.at, stops, now)
      return { ...run, trying: press.at === run.at ? '' : press.at }
    case 'step': {
      const at = stops.findIndex(({ key }) => key === run.at)
      return at < 0 ? run : goTo(run, stops[at + press.by]?.key, stops, now)
    }
    case 'next':
      return onward(run, stops, now)
    case 'undo':
      return run.undo && now <= run.undo.until ? { ...run.undo.run, since: now } : run
    case 'end':
      return { ...run, mode: 'ready', trying: '', undo: null }
    case 'tick':
      return ticked(run, stop, now)
  }
}

function ticked(run: Run, stop: Stop | undefined, now: number): Run {
  const current = run.undo && now > run.undo.until ? { ...run, undo: null } : run
  if (current.mode !== 'checking' || !current.auto || !stop || now - current.since < STEP) return current
  const next = stop.raises[(stop.raises.indexOf(current.raise) + 1) % stop.raises.length]
  return next === undefined || next === current.raise ? current : raisedAt(current, next, now)
}

const raisedAt = (run: Run, raise: Raise, since: number): Run => ({
  ...run,
  raise,
  since,
  seen: run.seen.includes(raise) ? run.seen : [...run.seen, raise],
})

function goTo(run: Run, at: string | undefined, stops: readonly Stop[], now: number): Run {
  const stop = stops.find(({ key }) => key === at)
  const first = stop?.raises[0]
  if (!stop || first === undefined) return run
  // Looking for a fault halts the automatic step; it goes on with the next light.
  const auto = run.mode === 'asking' || run.mode === 'halted' ? true : run.auto
  return raisedAt({ ...run, mode: 'checking', at: stop.key, auto, seen: [], trying: '' }, first, now)
}

/** The first after this station that nobody has judged, then the first at all; undefined: all are judged. */
function nextOf({ at, verdicts }: Run, stops: readonly Stop[]): string | undefined {
  const from = stops.findIndex(({ key }) => key === at)
  const open = [...stops.slice(from + 1), ...stops.slice(0, Math.max(0, from))]
  return open.find(({ key }) => verdicts[key] === undefined)?.key
}

function onward(run: Run, stops: readonly Stop[], now: number): Run {
  const next = nextOf(run, stops)
  return next === undefined ? { ...run, mode: 'done' } : goTo(run, next, stops, now)
}

const judged = (run: Run, verdict: Verdict, now: number): Run => ({
  ...run,
  verdicts: { ...run.verdicts, [run.at]: verdict },
  undo: { until: now + UNDO, run: { ...run, undo: null } },
})
