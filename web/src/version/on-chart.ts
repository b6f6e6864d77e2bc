// The chart shows the draft; what plays may be a published version with other bars. Where one stands in the other.

import { problem } from '@glowchart/shared/errors.ts'
import { barBeatAt } from '@glowchart/shared/time/meter.ts'
import { sectionAt } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { type SamePlace, samePlace, sameSpan } from '@glowchart/shared/version/same-place.ts'
import { useMemo } from 'react'
import { useShallow } from 'zustand/react/shallow'
import { say, useSession } from '../document/session.ts'
import { type ViewedSong, viewedSong } from '../document/viewed.ts'
import { positionAt } from '../live/playhead.ts'
import { useVersion } from './running.ts'

interface Span {
  readonly from: number
  readonly to: number
}

/** The song as it plays: that of the version that runs, in rehearsal the same; null: the version does not have it. */
export function playedSong(viewed: ViewedSong): ViewedSong | null {
  const { running } = useVersion.getState()
  if (!running) return viewed
  return running.show.songs[viewed.id] ? viewedSong(running.show, viewed.id) : null
}

/** The same for what is drawn. */
export function usePlayedSong(viewed: ViewedSong | null): ViewedSong | null {
  useVersion(s => s.running)
  return viewed && playedSong(viewed)
}

const isLoaded = (viewed: ViewedSong): boolean => useSession.getState().loaded === viewed.id

/** Where the song on the page is, in ticks of its chart; one that does not stand in the engine is at its start. @param now page time, ms */
export function chartPlace(viewed: ViewedSong, now: number): SamePlace {
  if (!isLoaded(viewed)) return { at: 0, there: playedSong(viewed) !== null }
  return onChart(viewed, positionAt(now))
}

/** A position that the engine tells of this song, on its chart. */
export function onChart(viewed: ViewedSong, position: number): SamePlace {
  const played = playedSong(viewed)
  return played ? samePlace(played.timeline, viewed.timeline, position) : { at: 0, there: false }
}

/** A loop that the engine tells of this song, on its chart; null where the chart has not those bars. */
export function loopOnChart(viewed: ViewedSong, loop: Span | null): Span | null {
  const played = playedSong(viewed)
  return loop && played && sameSpan(played.timeline, viewed.timeline, loop)
}

/** The loop of the song on the page, on its chart. A status comes ten times a second with an equal one. */
export function useLoopOnChart(viewed: ViewedSong): Span | null {
  const played = usePlayedSong(viewed)
  const loop = useSession(useShallow(s => (s.status?.song === viewed.id ? s.status.loop : null)))
  return useMemo(
    () => loop && played && sameSpan(played.timeline, viewed.timeline, loop),
    [loop, played, viewed.timeline],
  )
}

/** A place on the chart as what plays has it; null, and why is said, where that has no such place. */
export function placePlayed(viewed: ViewedSong, at: number): number | null {
  // Without the song at all, the press that follows is refused with the reason.
  const played = playedSong(viewed) ?? viewed
  const place = samePlace(viewed.timeline, played.timeline, at)
  if (place.there) return place.at
  refuse(viewed, at)
  return null
}

/** The same of a span, half-open. */
export function spanPlayed(viewed: ViewedSong, span: Span): Span | null {
  const played = playedSong(viewed) ?? viewed
  const same = sameSpan(viewed.timeline, played.timeline, span)
  if (!same) refuse(viewed, placeMissing(viewed, played, span) ?? span.from)
  return same
}

const placeMissing = (viewed: ViewedSong, played: ViewedSong, { from, to }: Span): number | undefined =>
  [from, to - 1].find(at => !samePlace(viewed.timeline, played.timeline, at).there)

function refuse(viewed: ViewedSong, at: number): void {
  const place = placeWords(viewed, at)
  notInVersion(`${place} is`, place)
}

/** Says that something of the draft is not in what plays. @param what with its verb: "“Ferry” is" */
export function notInVersion(what: string, where: string): void {
  const number = useVersion.getState().running?.number ?? ''
  const says = `${what} not in version ${number}, which plays`
  useSession.setState({ problem: problem('version.notIn', says, where) })
  say(says)
}

/** “Bridge, bar 3”: bars are counted from the section's start. */
export function placeWords({ song, timeline }: ViewedSong, at: number): string {
  const section = sectionAt(timeline, ticks(at))
  if (!section) return 'the end'
  const bar = barBeatAt(timeline.meters, ticks(at)).bar - section.firstBar + 1
  return `${song.sections[section.id]!.name}, bar ${bar}`
}
