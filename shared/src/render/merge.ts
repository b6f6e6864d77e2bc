// Merging a track's layer over the tracks above it.

import type { Track } from '../show/song.ts'
import type { CompiledPart } from './compiled.ts'
import type { Scratch } from './scratch.ts'

/**
 * Merges the layer into the stage's light, in linear light: `cover` = under · (1 − weight) + layer; `highest` the
 * greater of each channel (HTP); `add` the sum; `mask` = under · (1 − weight + layer · weight).
 */
export function mergeLayer(
  merge: Track['merge'],
  part: CompiledPart,
  scratch: Scratch,
  light: Float32Array,
): void {
  const { layer } = scratch
  const weight = scratch.layerWeight
  const under = 1 - weight
  const { cells } = part
  for (let i = 0; i < cells.length; i++) {
    const from = i * 3
    const to = cells[i]! * 3
    for (let c = 0; c < 3; c++) {
      const below = light[to + c]!
      const own = layer[from + c]!
      if (merge === 'cover') light[to + c] = below * under + own
      else if (merge === 'highest') light[to + c] = Math.max(below, own)
      else if (merge === 'add') light[to + c] = below + own
      else light[to + c] = below * (under + own * weight)
    }
  }
}
