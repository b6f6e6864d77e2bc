// How far the song was from where it should have been: told by the engine's frames, and read off the light at the receiver.

import type { Frame } from '@glowchart/shared/frame.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { secondsAt, type TempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { HeardPacket } from './receiver-process.ts'
import { PERIOD, RATE } from './stage.ts'

const msOf = (tempo: TempoMap, place: number): number => secondsAt(tempo, ticks(place)) * 1000

/**
 * Of the frames due from `from` to `to` (ms): the largest distance from where `expected` (ticks, by time) puts the
 * song, in song ms; NaN without a frame.
 */
export function worstError(
  frames: readonly Frame[],
  tempo: TempoMap,
  expected: (time: number) => number,
  from: number,
  to: number,
): number {
  const errors = frames
    .filter(({ due }) => due >= from && due <= to)
    .map(({ due, position }) => Math.abs(msOf(tempo, position) - msOf(tempo, expected(due))))
  return errors.length === 0 ? Number.NaN : Math.max(...errors)
}

/** The light of each frame of a song from its start, rendered apart from the engine. */
export function lightOf({ rig, show }: Documents, song: string): Buffer[] {
  const compiled = compileSong(rig, show, show.tonight, song)
  const plan = levelPlan(rig, show.kits[show.tonight]!)
  const frames = Math.ceil(secondsAt(compiled.timeline.tempo, compiled.timeline.length) * RATE)
  const live = freshLive()
  const scratch = renderScratch(compiled)
  const light = new Float32Array(compiled.stage.cells * 3)
  return Array.from({ length: frames }, (_, n) => {
    const { from, to } = frameSpan(compiled, n, RATE)
    const levels = Buffer.alloc(plan.universes.length * 512)
    renderLight(compiled, from, to, live, scratch, light)
    applyLimits(compiled, live, light)
    toLevels(plan, light, levels)
    return levels
  })
}

export interface ShownLight {
  /** Packets looked at. */
  packets: number
  /** Different lights among them: of a still stage nothing could be read. */
  different: number
  /** Packets whose light is that of no frame of the song within a second. */
  wrong: number
  /** The largest distance of a packet's frame from the one that was due when it came, ms, in whole frames. */
  worst: number
}

/**
 * Reads the song's place off the light of each packet. On the internal clock a live frame is byte for byte the
 * rendered one.
 * @param zero when frame 0 of the song was due, ms of the engine's clock
 */
export function shownLight(
  packets: readonly HeardPacket[],
  light: readonly Buffer[],
  zero: number,
): ShownLight {
  const shown = { packets: 0, different: 0, wrong: 0, worst: 0 }
  const seen = new Set<string>()
  for (const { at, levels, ended } of packets) {
    if (ended) continue
    shown.packets++
    seen.add(Buffer.from(levels).toString('latin1'))
    const due = Math.floor((at - zero) / PERIOD)
    const off = nearest(light, levels, due)
    if (off === null) shown.wrong++
    else shown.worst = Math.max(shown.worst, Math.abs(off) * PERIOD)
  }
  shown.different = seen.size
  return shown
}

/** How many frames from `due` the nearest frame with this light is, within a second; null: none has it. */
function nearest(light: readonly Buffer[], levels: Uint8Array, due: number): number | null {
  for (let off = 0; off <= RATE; off++) {
    if (light[due - off]?.equals(levels)) return -off
    if (light[due + off]?.equals(levels)) return off
  }
  return null
}
