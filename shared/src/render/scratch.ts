// The renderer's working memory: made once for a compiled song, so that a frame allocates nothing.

import type { CompiledSong } from './compiled.ts'
import { type Now, nowNumbers } from './now.ts'

/** Working memory of `renderLight` for one song; not to be shared by two renderers. */
export interface Scratch {
  readonly now: Now
  /** Time stands still: strobes and pulses show their mean. */
  steady: boolean
  /** Strobes show their mean. */
  calm: boolean
  /** The venue's limit on strobes has made one of this frame show its mean. */
  held: boolean
  /** The cue comes onto the layer where it is the brighter, not by `keep` and `gain`. */
  brighter: boolean
  /** Light of the track being rendered, by the part's own cells. */
  readonly layer: Float32Array
  /** Motion of every element of the part. */
  readonly motion: Float64Array
  /** One colour. */
  readonly colour: Float32Array
}

/** Makes the working memory for a song. */
export function renderScratch(song: CompiledSong): Scratch {
  const cells = song.parts.reduce((most, part) => Math.max(most, part.cells.length), 0)
  return {
    now: nowNumbers(),
    steady: false,
    calm: false,
    held: false,
    brighter: false,
    layer: new Float32Array(cells * 3),
    motion: new Float64Array(cells),
    colour: new Float32Array(3),
  }
}
