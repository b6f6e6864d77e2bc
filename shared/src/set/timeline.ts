// A whole set on one timeline: where each song of tonight's list lies on the clock, and what is to stand at a time.

import { type TimecodeRate, timecodeFrom, timecodeSeconds } from '../clock/timecode.ts'
import type { SetList, Show } from '../show/schema.ts'
import { secondsAt, type TempoMap, type TempoSegment } from '../time/tempo.ts'
import { type Timeline, timelineOf } from '../time/timeline.ts'
import { seconds, TICKS_PER_SONG_POSITION, ticks } from '../time/units.ts'
import { type SetStep, stepsOf } from './steps.ts'

type Entry = SetList['songs'][number]
type SongStep = Extract<SetStep, { kind: 'song' }>

/** A song on the timeline. `start` and `end` in the timeline's unit; `place`: its step in the set (see `stepsOf`). */
export interface SetSpan {
  readonly place: number
  readonly song: string
  readonly start: number
  readonly end: number
}

/** The songs that have a start on time code, in seconds from 00:00:00:00, in order; each once through as written. */
export const timecodeSpans = (show: Show, rate: TimecodeRate): SetSpan[] =>
  spansOf(
    show,
    ({ timecode }) => {
      const label = timecode === undefined ? null : timecodeFrom(timecode)
      return label && timecodeSeconds(label, rate)
    },
    ({ tempo, length }) => secondsAt(tempo, length),
  )

/** The songs that have a start on MIDI clock, in ticks from the set's first pulse, in order. */
export const positionSpans = (show: Show): SetSpan[] =>
  spansOf(
    show,
    ({ songPosition }) => (songPosition === undefined ? null : songPosition * TICKS_PER_SONG_POSITION),
    ({ length }) => length,
  )

function spansOf(
  show: Show,
  startOf: (entry: Entry) => number | null,
  lengthOf: (timeline: Timeline) => number,
): SetSpan[] {
  const list = show.tonightList === undefined ? undefined : show.setLists[show.tonightList]
  if (!list) return []
  return stepsOf(show)
    .flatMap((step, place) => (step.kind === 'song' ? [{ step, place }] : []))
    .flatMap(({ step, place }) => {
      const start = startOf(entryOf(list, step))
      if (start === null) return []
      return [{ place, song: step.song, start, end: start + lengthOf(timelineOf(show.songs[step.song]!)) }]
    })
    .sort((a, b) => a.start - b.start)
}

const entryOf = (list: SetList, { number }: SongStep): Entry => list.songs[number - 1]!

/** The label of a song's first bar on the set's time code, at its place in the set; null where it has none. */
export function timecodeStart(show: Show, place: number | null) {
  const list = show.tonightList === undefined ? undefined : show.setLists[show.tonightList]
  const step = place === null ? undefined : stepsOf(show)[place]
  const text = list && step?.kind === 'song' ? entryOf(list, step).timecode : undefined
  return text === undefined ? null : timecodeFrom(text)
}

/** A step of the set that is to stand; `span`: the song that it is in, or waits for. */
export interface Target {
  readonly place: number
  readonly span: SetSpan | null
}

/**
 * What is to stand at a place on the timeline: the song whose span it is in; between two, the look before the next one,
 * and that song itself `ahead` of its start; after the last, the set's last look. Null: what stands goes on.
 * @param sounds a song plays on past its written end (it has a vamp): it goes on until the next one's start
 */
export function targetAt(
  show: Show,
  spans: readonly SetSpan[],
  at: number,
  { ahead, sounds }: { ahead: number; sounds: boolean },
): Target | null {
  const index = spans.findLastIndex(span => span.start <= at)
  const here = spans[index]
  if (here && at < here.end) return { place: here.place, span: here }
  if (here && sounds) return null
  const next = spans[index + 1]
  if (next && at >= next.start - ahead) return { place: next.place, span: next }
  const steps = stepsOf(show)
  const place = next ? next.place - 1 : steps.length - 1
  const step = steps[place]
  return step?.kind === 'look' && step.when !== 'walkIn' ? { place, span: null } : null
}

/** The tempo of the whole set, as the MIDI clock will play it: each song's own from its start to the next one's. */
export function setTempo(show: Show, spans: readonly SetSpan[]): TempoMap {
  const all: TempoSegment[] = []
  for (const { song, start } of spans) {
    const { tempo } = timelineOf(show.songs[song]!)
    while (all.length > 0 && all.at(-1)!.at >= start) all.pop()
    for (const segment of tempo) {
      const at = ticks(start + segment.at)
      all.push({ ...segment, at, seconds: all.length === 0 ? seconds(0) : secondsAt(all, at) })
    }
  }
  const first = all[0]
  // Before the first song the clock runs at its tempo.
  return first && first.at > 0 ? setFromZero(all) : all
}

function setFromZero(all: readonly TempoSegment[]): TempoMap {
  const [first] = all as readonly [TempoSegment]
  const lead = { at: ticks(0), seconds: seconds(0), bpm: first.bpm, slope: 0 }
  const before = secondsAt([lead], first.at)
  return [lead, ...all.map(segment => ({ ...segment, seconds: seconds(segment.seconds + before) }))]
}
