// Changes of where the recording lies against the bars, and how loud it is.

import { fitBar } from '@glowchart/shared/beats/fit-bar.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { edit } from '../document/editing.ts'
import { say, useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { applyFit, useBeats } from './beats.ts'

const EARLIEST = -3600

/** Where in the recording bar 1 begins, s, held to what a song may have, in whole tenths of a ms. */
export const heldStart = (start: number, seconds: number): number =>
  Math.round(Math.min(seconds, Math.max(EARLIEST, start)) * 1e4) / 1e4

export function setStart({ id, song }: ViewedSong, start: number): Promise<unknown> {
  if (!song.audio) return Promise.resolve()
  return edit('setAudio', {
    song: id,
    audio: { ...song.audio, start: heldStart(start, song.audio.seconds) },
  })
}

/** Where a bar (0-based) begins in the recording, s. */
export const barTime = ({ song, timeline }: ViewedSong, bar: number): number =>
  (song.audio?.start ?? 0) + secondsAt(timeline.tempo, barStart(timeline.meters, bar))

/** The last bar before `bar` that was fitted by hand; bar 1 where there is none. */
export const fixedBefore = (fitted: readonly number[], bar: number): number =>
  Math.max(0, ...fitted.filter(other => other < bar))

/** Bends the tempo so that a bar (0-based; 0 moves the whole recording) begins at `time` s of the recording. */
export async function putBarAt(viewed: ViewedSong, bar: number, time: number): Promise<void> {
  if (!viewed.song.audio) return
  if (bar === 0) {
    await setStart(viewed, time)
    return
  }
  const { fitted } = useBeats.getState()
  try {
    const fit = fitBar(viewed.song, viewed.song.audio.start, fixedBefore(fitted, bar), bar, time)
    await applyFit(`Bar ${bar + 1} fitted to the recording`, viewed, fit)
    useBeats.setState({ fitted: [...fitted.filter(other => other < bar), bar] })
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    useSession.setState({ problem: error.problem })
    say(error.message)
  }
}
