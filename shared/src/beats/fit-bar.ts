// Bends a song's tempo between two bars so that the second begins where it does in the recording.

import { CodedError } from '../errors.ts'
import { bpm as bpmRange, type Song } from '../show/song.ts'
import { barStart } from '../time/meter.ts'
import { bpmAt, secondsAt } from '../time/tempo.ts'
import { sectionAt, timelineOf } from '../time/timeline.ts'
import { TICKS_PER_BEAT, type Ticks } from '../time/units.ts'
import { type Fit, withMarks } from './lay.ts'

/** Further from the place asked for than this, s, it has not been reached. */
const REACHED = 0.001

/**
 * One even tempo from bar `from` to bar `bar`. Tempo marks between them go. What follows keeps its marks; where there
 * are none, it goes on in the new tempo.
 * @param from the bar that stays where it is, `bar` a later one: 0-based; `bar` may be the song's end
 * @param start where bar 1 begins in the recording, s @param time where `bar` begins in it, s
 * @throws CodedError `edit.outside` when no tempo of 20…400 does it; `edit.linked` when a copy's tempo is in the way
 */
export function fitBar(song: Song, start: number, from: number, bar: number, time: number): Fit {
  const timeline = timelineOf(song)
  const [first, end] = [barStart(timeline.meters, from), barStart(timeline.meters, bar)]
  const where = `${song.title}, bar ${bar + 1}`
  const last = timeline.sections.at(-1)
  if (from < 0 || bar <= from || !last || bar > last.firstBar + last.bars) {
    throw new CodedError('edit.outside', `there is no bar ${bar + 1} after bar ${from + 1}`, where)
  }
  const seconds = time - start - secondsAt(timeline.tempo, first)
  const bpm = (60 * (end - first)) / TICKS_PER_BEAT / seconds
  if (!(bpm >= bpmRange.minValue! && bpm <= bpmRange.maxValue!)) {
    const says = seconds > 0 ? `it would take ${bpm.toFixed(1)} BPM` : `it would begin before bar ${from + 1}`
    throw new CodedError('edit.outside', says, where)
  }
  const holds = sectionAt(timeline, first)!
  if (holds.source !== holds.id) {
    const says = `bar ${from + 1} is in a section that repeats another`
    throw new CodedError('edit.linked', says, where)
  }
  const after = bpmAt(timeline.tempo, end)
  const next = sectionAt(timeline, end)
  const goesOn = !timeline.tempo.some(segment => segment.at > end)
  const marks = Object.fromEntries(
    timeline.sections.flatMap(span => {
      if (span.source !== span.id) return []
      const { tempo } = song.sections[span.id]!
      const own = tempo.filter(mark => span.start + mark.at < first || span.start + mark.at >= end)
      const put = (at: number, value: number) => {
        if (!own.some(mark => mark.at === at)) own.push({ at: at as Ticks, bpm: value })
      }
      if (span === holds && first > 0) put(first - span.start, bpm)
      if (span === next && !goesOn) put(end - span.start, after)
      return [[span.id, own.toSorted((a, b) => a.at - b.at)]]
    }),
  )
  const fit: Fit = { bpm: first === 0 ? bpm : song.bpm, start, marks, worst: 0 }
  const reached = timelineOf(withMarks({ ...song, bpm: fit.bpm }, marks))
  if (Math.abs(start + secondsAt(reached.tempo, end) - time) > REACHED) {
    throw new CodedError('edit.linked', 'a section in between repeats the tempo of another', where)
  }
  return fit
}
