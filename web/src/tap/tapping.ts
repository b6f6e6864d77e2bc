// Tapping in: what is armed, the taps so far, and what keeps or drops them.

import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { create } from 'zustand'
import { gridNow } from '../chart/snap.ts'
import { useChoice } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { editTogether } from '../document/editing.ts'
import { usePreferences } from '../document/preferences.ts'
import { say, useSession } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { press } from '../live/desk.ts'
import { positionThen } from '../live/playhead.ts'
import { hereAsPlayed, playOrStop } from '../transport/moves.ts'
import { onChart } from '../version/on-chart.ts'
import { endOf, type Tap, type Target, tapEdits } from './taps.ts'

interface Tapping {
  readonly armed: Target | null
  /** The song they are tapped on. */
  readonly song: string | null
  readonly taps: readonly Tap[]
}

export const useTapping = create<Tapping>(() => ({ armed: null, song: null, taps: [] }))

/** Taps that are held now, by what holds them: a key, a note, the button. */
const holding = new Map<string, { readonly tap: number; readonly since: number }>()
let lastTap = 0

/** Arms the part or the look that is chosen (the highest part, where none is), and counts the song in if it stands. */
export async function armTaps(): Promise<void> {
  const viewed = viewedSongNow()
  const target = chosenTarget()
  if (!viewed || !target) {
    say('Tapping in needs a song and a part.')
    return
  }
  useTapping.setState({ armed: target, song: viewed.id, taps: [] })
  holding.clear()
  say('Tap in: T taps, Enter keeps, Escape drops.')
  const { status } = useSession.getState()
  if (status?.playing) return
  if (status?.song !== viewed.id || status.clock.source !== 'internal') return playOrStop()
  const here = hereAsPlayed()
  if (!here) return playOrStop()
  const { at, timeline } = here
  const meter = timeline.meters.findLast(segment => segment.at <= at)!.meter
  await press({ do: 'play', after: (meter.beats * (4 / meter.unit) * 60) / bpmAt(timeline.tempo, at) })
}

export const armTarget = (armed: Target): void => useTapping.setState({ armed })

/** The part of a number from the top, 1-based. */
export function partNumber(number: number): Target | null {
  const id = useDocument.getState().show?.partOrder[number - 1]
  return id === undefined ? null : { kind: 'part', id }
}

function chosenTarget(): Target | null {
  const { cues, thing } = useChoice.getState()
  if (thing?.kind === 'look' || thing?.kind === 'part') return { kind: thing.kind, id: thing.id }
  const ref = cues[0]
  const song = viewedSongNow()?.song
  const track = ref && song?.sections[ref.section]?.cues[ref.cue]?.track
  const part = track === undefined ? undefined : song?.tracks[track]?.part
  return part === undefined ? partNumber(1) : { kind: 'part', id: part }
}

/** @param by what holds it; @param then page time of the event, ms */
export function tapDown(by: string, then: number, target = useTapping.getState().armed): void {
  const viewed = viewedSongNow()
  if (!target || holding.has(by) || !viewed || viewed.id !== useTapping.getState().song) return
  const { status } = useSession.getState()
  // Before the first beat of a count-in a tap is early: it stands where the song will begin.
  const early = status?.starts != null ? status.position : null
  const position = positionThen(then - usePreferences.getState().tapLatency) ?? early
  if (position === null) {
    say('The song stands still: press Space to play.')
    return
  }
  const { at, there } = onChart(viewed, position)
  if (!there) {
    say('What plays has bars here that this chart has not.')
    return
  }
  lastTap += 1
  holding.set(by, { tap: lastTap, since: then })
  const tap = { id: lastTap, target, at, to: null, held: null }
  useTapping.setState(s => ({ taps: [...s.taps, tap] }))
}

export function tapUp(by: string, then: number): void {
  const held = holding.get(by)
  const viewed = viewedSongNow()
  holding.delete(by)
  if (!held || !viewed) return
  const played = positionThen(then - usePreferences.getState().tapLatency)
  const position = played === null ? null : onChart(viewed, played).at
  const end = (tap: Tap): Tap =>
    tap.id === held.tap
      ? {
          ...tap,
          to: endOf(viewed.timeline, tap.at, position, then - held.since),
          held: then - held.since,
        }
      : tap
  useTapping.setState(s => ({ taps: s.taps.map(end) }))
}

/** Ends every tap that is held. */
export function liftAll(then: number): void {
  for (const by of [...holding.keys()]) tapUp(by, then)
}

/** Writes the taps as one step, each on the grid of the zoom, and disarms. */
export function keepTaps(): void {
  liftAll(performance.now())
  const { taps, song } = useTapping.getState()
  const { show } = useDocument.getState()
  const viewed = viewedSongNow()
  if (show && viewed && viewed.id === song && taps.length > 0) {
    const told = tapEdits(show, viewed, taps, gridNow())
    void editTogether(taps.length === 1 ? 'Tap in a cue' : `Tap in ${taps.length} cues`, told)
  }
  disarm()
}

export function dropTaps(): void {
  if (useTapping.getState().taps.length > 0) say('The taps are dropped.')
  disarm()
}

function disarm(): void {
  holding.clear()
  useTapping.setState({ armed: null, song: null, taps: [] })
}
