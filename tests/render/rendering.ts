// Rendering in the renderer's tests: whole frames, and the bytes that go out for them.

import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { freshLive, type Live } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'

/** The light of one span, with working memory of its own. */
export function lightOf(
  song: CompiledSong,
  from: number,
  to: number,
  live: Live = freshLive(),
): Float32Array {
  const light = new Float32Array(song.stage.cells * 3)
  renderLight(song, from, to, live, renderScratch(song), light)
  return light
}

/** The light of frames [first, last) of a song, played in a row; to its end when `last` is left out. */
export function framesOf(
  song: CompiledSong,
  rate: number,
  first = 0,
  last = frameCount(song, rate),
): Float32Array[] {
  const scratch = renderScratch(song)
  return Array.from({ length: last - first }, (_, i) => {
    const { from, to } = frameSpan(song, first + i, rate)
    const light = new Float32Array(song.stage.cells * 3)
    renderLight(song, from, to, freshLive(), scratch, light)
    return light
  })
}

/** Frames that hold some of the song; what only the rounding of floats leaves after the last is none. */
export const frameCount = (song: CompiledSong, rate: number): number =>
  Math.ceil(secondsAt(song.timeline.tempo, song.timeline.length) * rate - 1e-6)

/** An 8-bit level of light, half up: what a plain RGB fixture gets. */
export const byteOf = (light: number): number => Math.floor(light * 255 + 0.5)

/** Bytes of a light, to compare with `toEqual` and to show. */
export const bytesOf = (light: Float32Array): number[] => Array.from(light, byteOf)

/** The red bytes of one fixture (of one cell) over frames. */
export const redOf = (frames: readonly Float32Array[], fixture = 0): number[] =>
  frames.map(light => byteOf(light[fixture * 3]!))
