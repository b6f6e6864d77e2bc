// One frame of a song's light: a pure function of its place in the song and of the live state.

import { secondsAt } from '../time/tempo.ts'
import type { Ticks } from '../time/units.ts'
import type { CompiledSong } from './compiled.ts'
import type { Live } from './live.ts'
import { mergeLayer } from './merge.ts'
import { its } from './now.ts'
import type { Scratch } from './scratch.ts'
import { renderTrack } from './track.ts'

/** A strobe at the very rate that the venue allows is allowed, whatever the last bit of the arithmetic says. */
const SAME = 1e-6

/**
 * Renders the frame that stands for [from, to), in ticks of the written song (fractions are fine), into `out`: linear
 * light 0…1, red, green and blue of every cell of the stage. A frame without length (from = to) is a stopped clock.
 * Levels, gradients and slow motions are read where the frame begins (or a cue in it); fades, hits, windows and
 * crossfades show the most, or the furthest, that they come to in it, so that nothing short is lost.
 * Of the live state only `hold`, `strobeStop` and `solo` act here; the rest acts in `applyLimits`. So does the venue's
 * limit on strobes: it counts flashes by the clock on the wall, of which `pace` is how many seconds of the song pass in
 * one. `scratch.held` says afterwards whether it has made a strobe steady.
 *
 * Equal arguments give equal bytes, whatever was rendered before. Allocates nothing; `scratch` is from `renderScratch`
 * and `out` has stage.cells × 3 floats.
 */
export function renderLight(
  song: CompiledSong,
  from: number,
  to: number,
  live: Live,
  scratch: Scratch,
  out: Float32Array,
  pace = 1,
): void {
  const { now } = scratch
  now[its.from] = from
  now[its.to] = to
  now[its.fromSeconds] = secondsAt(song.timeline.tempo, from as Ticks)
  now[its.toSeconds] = secondsAt(song.timeline.tempo, to as Ticks)
  const seconds = now[its.toSeconds]! - now[its.fromSeconds]!
  now[its.mostCycles] = (song.venue.flashes / pace) * seconds * (1 + SAME)
  scratch.held = false
  scratch.steady = live.hold || to <= from
  scratch.calm = live.strobeStop
  out.fill(0)
  const alone = hasSolo(song, live)
  for (const track of song.tracks) {
    if (alone && !live.solo.includes(track.id)) continue
    if (!renderTrack(song, track, scratch)) continue
    mergeLayer(track.merge, song.parts[track.part]!, scratch, out)
  }
  for (let i = 0; i < out.length; i++) if (out[i]! > 1) out[i] = 1
}

/** True when a track of this song is soloed; one that is muted or of another song must not leave the stage dark. */
function hasSolo({ tracks }: CompiledSong, { solo }: Live): boolean {
  if (solo.length === 0) return false
  for (const track of tracks) if (solo.includes(track.id)) return true
  return false
}
