// Tap tempo: while the song plays on our own clock, taps set its speed; while it stands, they offer a tempo to write.

import { tapped, tappedTempo } from '@glowchart/shared/score/taps.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { create } from 'zustand'
import { edit } from '../document/editing.ts'
import { say, useSession } from '../document/session.ts'
import { type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { press } from '../live/desk.ts'
import { tempoRuler } from './clock-words.ts'
import { hereAsPlayed, songPosition } from './moves.ts'

interface Taps {
  readonly times: readonly number[]
  /** Quarter notes a minute; null while too few have been tapped. */
  readonly bpm: number | null
}

export const useTaps = create<Taps>(() => ({ times: [], bpm: null }))

export const forgetTaps = (): void => useTaps.setState({ times: [], bpm: null })

/** One tap, now. */
export function tap(): void {
  const here = hereAsPlayed()
  const status = useSession.getState().status
  if (!here) return
  const ruler = tempoRuler(status?.clock.source)
  if (ruler) return say(`${ruler}.`)
  const { at, timeline } = here
  const { meter } = timeline.meters.findLast(m => m.at <= at) ?? timeline.meters[0]!
  const times = tapped(useTaps.getState().times, performance.now())
  const bpm = tappedTempo(times, meter)
  useTaps.setState({ times, bpm })
  if (bpm === null || !status?.playing) return
  const factor = bpm / bpmAt(timeline.tempo, at)
  void press({ do: 'speed', factor: Math.min(4, Math.max(0.25, factor)) })
}

/** Writes the tapped tempo into the song: at the tempo mark that rules where it stands, or as the song's own. */
export async function writeTapped(): Promise<void> {
  const viewed = viewedSongNow()
  const { bpm } = useTaps.getState()
  if (!viewed || bpm === null) return
  const ruling = rulingMark(viewed, songPosition())
  const answer = ruling
    ? await edit('setTempoMarks', {
        song: viewed.id,
        section: ruling.section,
        tempo: viewed.song.sections[ruling.section]!.tempo.map((mark, i) =>
          i === ruling.mark ? { ...mark, bpm } : mark,
        ),
      })
    : await edit('setSong', { song: viewed.id, bpm })
  if (!answer.ok) return
  forgetTaps()
  await press({ do: 'speed', factor: 1 })
}

/** The last tempo mark at or before a written position, by the section that holds it. */
function rulingMark({ song, timeline }: ViewedSong, at: number): { section: string; mark: number } | null {
  let ruling: { section: string; mark: number } | null = null
  for (const { source, start, end } of timeline.sections) {
    for (const [mark, { at: into }] of song.sections[source]!.tempo.entries()) {
      if (start + into <= at && start + into < end) ruling = { section: source, mark }
    }
  }
  return ruling
}
