// A set list for the floor: the songs in order with what a player looks down for.

import type { SetList, Show } from '../show/schema.ts'
import { bpmAt, secondsAt } from '../time/tempo.ts'
import { timelineOf } from '../time/timeline.ts'
import { bpmText, lengthText } from './words.ts'

export interface SetRow {
  readonly number: number
  readonly song: string
  readonly title: string
  /** “118”, or “118 to 92” where the tempo changes. */
  readonly tempo: string
  /** “4/4”, or “4/4, 7/8”. */
  readonly meter: string
  /** “D major”; empty when none is said. */
  readonly key: string
  /** “3:43”. */
  readonly length: string
  readonly bars: number
  /** Names of the sections that vamp. */
  readonly vamps: readonly string[]
  readonly note: string
}

/** The rows, and the length of all songs together. A song that the show does not have is left out. */
export function setListRows(show: Show, list: SetList): { rows: SetRow[]; length: string } {
  let seconds = 0
  const rows = list.songs.flatMap(({ song: id, note }, i) => {
    const song = show.songs[id]
    if (!song) return []
    const timeline = timelineOf(song)
    const length = secondsAt(timeline.tempo, timeline.length)
    seconds += length
    const first = bpmAt(timeline.tempo, timeline.sections[0]?.start ?? timeline.length)
    const last = bpmAt(timeline.tempo, timeline.length)
    const meters = timeline.meters.map(({ meter }) => `${meter.beats}/${meter.unit}`)
    const tempo = Math.abs(first - last) < 0.5 ? bpmText(first) : `${bpmText(first)} to ${bpmText(last)}`
    return [
      {
        number: i + 1,
        song: id,
        title: song.title,
        tempo,
        meter: [...new Set(meters)].join(', '),
        key: song.key ?? '',
        length: lengthText(length),
        bars: timeline.sections.reduce((sum, s) => sum + s.bars, 0),
        vamps: timeline.sections.filter(s => s.vamp).map(s => song.sections[s.id]!.name),
        note: note ?? song.note ?? '',
      },
    ]
  })
  return { rows, length: lengthText(seconds) }
}
