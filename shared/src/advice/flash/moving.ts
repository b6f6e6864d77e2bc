// The cues behind flashing light that move in cycles: which light each has, and how often a second it comes round.

import type { Light } from '../../light/schema.ts'
import { lightOf } from '../../show/edits/light.ts'
import type { Show } from '../../show/schema.ts'
import type { TempoMap } from '../../time/tempo.ts'
import { bpmAt } from '../../time/tempo.ts'
import { cuePlaces, type Timeline, timelineOf } from '../../time/timeline.ts'
import { TICKS_PER_BEAT, type Ticks } from '../../time/units.ts'
import type { CueRef } from '../advice.ts'

/** A cue whose motion has cycles. */
export interface MovingCue {
  readonly ref: CueRef
  readonly part: string
  readonly light: Light
  /** The fastest tempo of all its places in the song, quarter notes a minute. */
  readonly bpm: number
  /** Cycles a second at that tempo. */
  readonly rate: number
}

/** Cycles a second of a motion at a tempo. */
export const cyclesPerSecond = ({ rate }: Light['motion'], bpm: number): number =>
  'hz' in rate ? rate.hz : ((bpm / 60) * TICKS_PER_BEAT) / rate.ticks

/** Those of these cues that move and are played, in their order; each once, at its fastest place. */
export function movingCues(show: Show, songId: string, refs: readonly CueRef[]): MovingCue[] {
  const song = show.songs[songId]!
  const timeline = timelineOf(song)
  const bpms = fastestTempos(cuePlaces(song, timeline), timeline)
  return refs.flatMap(ref => {
    const cue = song.sections[ref.section]?.cues[ref.cue]
    const bpm = bpms.get(keyOf(ref))
    if (!cue || bpm === undefined) return []
    const { part } = song.tracks[cue.track]!
    const light = lightOf(show, part, cue)
    if (light.motion.kind === 'sustain') return []
    return [{ ref, part, light, bpm, rate: cyclesPerSecond(light.motion, bpm) }]
  })
}

const keyOf = ({ section, cue }: CueRef): string => `${section} ${cue}`

function fastestTempos(places: ReturnType<typeof cuePlaces>, { tempo }: Timeline): Map<string, number> {
  const fastest = new Map<string, number>()
  for (const { sourceSection, id, at, length } of places) {
    const key = keyOf({ section: sourceSection, cue: id })
    const bpm = fastestBetween(tempo, at, (at + length) as Ticks)
    fastest.set(key, Math.max(fastest.get(key) ?? 0, bpm))
  }
  return fastest
}

/** The fastest tempo in [from, to): at an end, or where a segment ends or begins. */
function fastestBetween(tempo: TempoMap, from: Ticks, to: Ticks): number {
  const inside = tempo.filter(({ at }) => at > from && at < to)
  const before = (at: Ticks) => bpmAt(tempo, (at - 1) as Ticks)
  return Math.max(
    bpmAt(tempo, from),
    before(to),
    ...inside.flatMap(segment => [segment.bpm, before(segment.at)]),
  )
}
