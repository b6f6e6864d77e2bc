// Plays a song of a show from end to end by the real renderer, frame by frame, and keeps every frame's light.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import { frameFrom, frameSpan } from '@glowchart/shared/render/frames.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Stage } from '@glowchart/shared/rig/stage.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'

export interface Playthrough {
  readonly stage: Stage
  readonly seconds: number
  /** Linear light of every cell (red, green, blue) of every frame, one frame after the other. */
  readonly light: Float32Array
  readonly frames: number
}

export function playThrough(rig: Rig, show: Show, kit: string, songId: string): Playthrough {
  const song = compileSong(rig, show, kit, songId)
  const { rate } = show.output
  const frames = frameFrom(song, song.timeline.length, rate)
  const values = 3 * song.stage.cells
  const light = new Float32Array(frames * values)
  const scratch = renderScratch(song)
  const live = freshLive()
  for (let n = 0; n < frames; n++) {
    const { from, to } = frameSpan(song, n, rate)
    renderLight(song, from, to, live, scratch, light.subarray(n * values, (n + 1) * values))
  }
  return { stage: song.stage, seconds: secondsAt(song.timeline.tempo, song.timeline.length), light, frames }
}

/** The strongest colour that a fixture of the stage reaches in a song, 0…1. */
export function brightest({ stage, light, frames }: Playthrough, fixture: number): number {
  const { firstCell, cells } = stage.fixtures[fixture]!
  let most = 0
  for (let n = 0; n < frames; n++) {
    for (let i = 3 * firstCell; i < 3 * (firstCell + cells); i++) {
      most = Math.max(most, light[n * 3 * stage.cells + i]!)
    }
  }
  return most
}
