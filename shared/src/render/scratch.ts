// The renderer's working memory: made once for a compiled song, so that a frame allocates nothing.

import type { CompiledSong, Frame } from './compiled.ts'
import type { Wave } from './motion/wave.ts'

/** One cue's way onto its track's layer: layer = layer · keep + light · gain, or the greater of the two. */
export interface Stroke {
  /** The cue's part of the frame, in ticks and in seconds of the song. */
  at: number
  atSeconds: number
  until: number
  untilSeconds: number
  /** Share of the fades that dims the light itself (on the L* scale). */
  fade: number
  keep: number
  gain: number
  greater: boolean
}

/** Working memory of `renderLight` for one song; not to be shared by two renderers. */
export interface Scratch {
  readonly frame: Frame
  readonly stroke: Stroke
  readonly wave: Wave
  /** Light of the track being rendered, by the part's own cells. */
  readonly layer: Float32Array
  /** How much of the track there is (0…1): the weight of a covering or masking one. */
  layerWeight: number
  /** Motion of every element of the part. */
  readonly motion: Float64Array
  /** One colour. */
  readonly colour: Float32Array
}

// Fields that hold fractions begin as fractions, so that the engine never stores them as whole numbers first.
const FRACTION = 0.5

/** Makes the working memory for a song. */
export function renderScratch(song: CompiledSong): Scratch {
  const cells = song.parts.reduce((most, part) => Math.max(most, part.cells.length), 0)
  return {
    frame: { from: FRACTION, to: FRACTION, fromSeconds: FRACTION, toSeconds: FRACTION },
    stroke: {
      at: FRACTION,
      atSeconds: FRACTION,
      until: FRACTION,
      untilSeconds: FRACTION,
      fade: FRACTION,
      keep: FRACTION,
      gain: FRACTION,
      greater: false,
    },
    wave: { phase: FRACTION, advance: FRACTION, spread: FRACTION, duty: FRACTION, shape: FRACTION, seed: 0 },
    layer: new Float32Array(cells * 3),
    layerWeight: FRACTION,
    motion: new Float64Array(cells),
    colour: new Float32Array(3),
  }
}
