// The moves of the transport, as buttons, keys and the chart ask for them, from where the song is now.

import { barBeatAt, barStart } from '@glowchart/shared/time/meter.ts'
import { sectionAt } from '@glowchart/shared/time/timeline.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { followedNow } from '../access/read-only.ts'
import { hasSound, secondsBefore, wakeSound } from '../audio/sound.ts'
import { chosenOf } from '../cue/chosen.ts'
import { useChoice } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { useSession } from '../document/session.ts'
import { type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { press } from '../live/desk.ts'
import { positionAt } from '../live/playhead.ts'
import { chartPlace, onChart, placePlayed, playedSong, spanPlayed } from '../version/on-chart.ts'

/** Where the last press went, while the engine's frames have not shown it yet: a second press counts from there. */
let aimed: { at: number; until: number } | null = null
const AIM = 300

type Place = ViewedSong & { at: Ticks }

/** The song on the page and the place on its chart; null without a song. */
function here(): Place | null {
  const viewed = viewedSongNow()
  if (!viewed) return null
  const now = performance.now()
  if (aimed && now < aimed.until) return { ...viewed, at: ticks(aimed.at) }
  return { ...viewed, at: ticks(chartPlace(viewed, now).at) }
}

/** The same song as it plays, and the place in it; null without one, or where the version that runs has it not. */
export function hereAsPlayed(): Place | null {
  const viewed = viewedSongNow()
  const played = viewed && playedSong(viewed)
  if (!played) return null
  const isLoaded = useSession.getState().loaded === played.id
  return { ...played, at: ticks(isLoaded ? positionAt(performance.now()) : 0) }
}

/** Where the song is, in ticks of its chart; where it was sent, while it has not got there. 0 without a song. */
export const songPosition = (): number => here()?.at ?? 0

/** Puts a song on the page and in the engine. */
export async function chooseSong(song: string, at = 0): Promise<void> {
  aimed = null
  useSession.setState({ song, lines: {} })
  // On a laptop that follows it is looked at only.
  if (followedNow() !== null) return
  await press({ do: 'song', song, at })
}

/** Brings the engine to the song on the page, if another one stands there. @param at as it plays */
async function loadViewed(at: number): Promise<boolean> {
  const viewed = viewedSongNow()
  if (!viewed) return false
  if (useSession.getState().status?.song === viewed.id) return true
  return (await press({ do: 'song', song: viewed.id, at })).ok
}

export async function playOrStop(): Promise<void> {
  if (useSession.getState().status?.playing) await press({ do: 'stop' })
  else await play()
}

/** Plays from where the song is, counted in if this page wants it so. */
async function play(): Promise<void> {
  const now = hereAsPlayed()
  const sounds = now !== null && hasSound(now)
  // Inside the gesture: browsers start sound only there.
  if (sounds) await wakeSound()
  if (!(await loadViewed(0))) return
  const at = now && now.at < now.timeline.length ? now.at : ticks(0)
  const speed = useSession.getState().status?.speed ?? 1
  await press(sounds ? { do: 'play', after: secondsBefore(now, at, speed) } : { do: 'play' })
}

/** Plays from the first of the chosen cues, or from the start of the bar that the playhead is in. */
export async function playFromHere(): Promise<void> {
  const now = here()
  if (!now) return
  // Inside the gesture.
  if (hasSound(now)) void wakeSound()
  const span = chosenSpan(now)
  const at = span?.from ?? barStart(now.timeline.meters, barBeatAt(now.timeline.meters, now.at).bar)
  if (!(await goTo(at))) return
  if (!useSession.getState().status?.playing) await play()
}

/** The ticks that the chosen cues cover; null when none are chosen. */
function chosenSpan(viewed: ViewedSong): { from: number; to: number } | null {
  const { show } = useDocument.getState()
  const chosen = show ? chosenOf(show, viewed, useChoice.getState().cues) : []
  if (chosen.length === 0) return null
  const ends = chosen.map(({ place }) => place.at + place.length)
  return { from: chosen[0]!.place.at, to: Math.min(viewed.timeline.length, Math.max(...ends)) }
}

/** Goes to the beat that a tick of the chart lies in. False where what plays has no such place. */
export async function goTo(tick: number): Promise<boolean> {
  const now = here()
  if (!now) return false
  const { tick: into } = barBeatAt(now.timeline.meters, ticks(tick))
  const at = Math.max(0, Math.round(tick - into))
  const played = placePlayed(now, at)
  if (played === null) return false
  await send(now, at, played)
  return true
}

/** @param at where that is on the chart; @param played and in what plays */
async function send({ id }: ViewedSong, at: number, played: number): Promise<void> {
  aimed = { at, until: performance.now() + AIM }
  if (useSession.getState().status?.song === id) await press({ do: 'locate', at: played })
  else await loadViewed(played)
}

/** @param bar 1-based, as it is written on the page; held to the song */
export async function goToBar(bar: number): Promise<void> {
  const now = here()
  if (now)
    await goTo(
      Math.min(Math.max(0, now.timeline.length - 1), barStart(now.timeline.meters, Math.max(0, bar - 1))),
    )
}

/** The start of what plays, whatever the chart begins with by now. */
export async function goToStart(): Promise<void> {
  const now = here()
  if (now) await send(now, onChart(now, 0).at, 0)
}

/** One bar back or on; back, within the first beat of a bar, is the bar before. */
export async function stepBar(by: 1 | -1): Promise<void> {
  const now = here()
  if (!now) return
  const { bar, beat } = barBeatAt(now.timeline.meters, now.at)
  await goToBar(1 + (by === 1 ? bar + 1 : beat === 0 ? bar - 1 : bar))
}

/** One section back or on; back, within the first bar of a section, is the section before. */
export async function stepSection(by: 1 | -1): Promise<void> {
  const now = here()
  if (!now) return
  const { sections, meters } = now.timeline
  const index = (sectionAt(now.timeline, now.at) ?? sections.at(-1))?.index ?? 0
  const inFirstBar = barBeatAt(meters, now.at).bar === sections[index]?.firstBar
  const target =
    sections[by === 1 ? index + 1 : inFirstBar ? index - 1 : index] ?? (by === 1 ? undefined : sections[0])
  if (target) await goTo(target.start)
}

/** Ticks of the chart, half-open. */
export async function loopBars(from: number, to: number): Promise<void> {
  const viewed = viewedSongNow()
  const span = viewed && spanPlayed(viewed, { from, to })
  if (span && (await loadViewed(span.from))) await press({ do: 'loop', span })
}

/** Loops the chosen cues, or else the section the song is in; or lifts the loop that is set. */
export async function toggleLoop(): Promise<void> {
  const now = here()
  if (useSession.getState().status?.loop) {
    await press({ do: 'loop', span: null })
    return
  }
  const chosen = now && chosenSpan(now)
  if (chosen) return loopBars(chosen.from, chosen.to)
  const section = now && (sectionAt(now.timeline, now.at) ?? now.timeline.sections[0])
  if (section) await loopBars(section.start, section.end)
}

export const leaveVamp = () => press({ do: 'release' })
