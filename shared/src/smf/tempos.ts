// The tempo of a Standard MIDI File as the steps of a song.

import { bpm as bpmRange } from '../show/song.ts'
import type { Ticks } from '../time/units.ts'
import { songTick } from './bars.ts'
import type { SmfSong } from './read.ts'

const { minValue: SLOWEST, maxValue: FASTEST } = bpmRange

export interface SongTempo {
  /** BPM from the song's start. */
  readonly first: number
  /** Each later change, once a tick, in order; song ticks. */
  readonly marks: readonly { readonly at: Ticks; readonly bpm: number }[]
  /** What had to be changed, in sentences. */
  readonly said: readonly string[]
}

/** Of several tempos on one tick the last counts; one that changes nothing, or stands from `end` on, is left out. */
export function temposOf(smf: SmfSong, end: Ticks): SongTempo {
  const marks: { at: Ticks; bpm: number }[] = [{ at: 0 as Ticks, bpm: 120 }]
  const held: number[] = []
  for (const { at: fileTick, microseconds } of smf.tempos) {
    const at = songTick(smf, fileTick)
    if (at >= end) break
    const written = 60e6 / microseconds
    const bpm = Math.min(FASTEST!, Math.max(SLOWEST!, written))
    if (bpm !== written) held.push(written)
    if (marks.at(-1)!.at === at) marks.pop()
    if (marks.at(-1)?.bpm !== bpm) marks.push({ at, bpm })
  }
  const many = held.length === 1 ? 'A tempo' : `${held.length} tempos`
  const said = `${many} outside 20 to 400 BPM (${held[0]?.toFixed(1)} BPM) became the nearest of these.`
  return { first: marks[0]!.bpm, marks: marks.slice(1), said: held.length === 0 ? [] : [said] }
}
