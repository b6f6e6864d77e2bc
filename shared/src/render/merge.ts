// Merging a track's layer over the tracks above it.

import type { Track } from '../show/song.ts'
import type { CompiledPart } from './compiled.ts'
import { its } from './now.ts'
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
  // A loop each, so that none asks for every channel which of the four it is.
  switch (merge) {
    case 'cover':
      return cover(part.cells, scratch, light)
    case 'highest':
      return highest(part.cells, scratch, light)
    case 'add':
      return add(part.cells, scratch, light)
    case 'mask':
      return mask(part.cells, scratch, light)
  }
}

function cover(cells: Int32Array, { layer, now }: Scratch, light: Float32Array): void {
  const weight = now[its.weight]!
  const under = 1 - weight
  for (let i = 0, from = 0; i < cells.length; i++) {
    const to = cells[i]! * 3
    for (let c = 0; c < 3; c++, from++) light[to + c] = light[to + c]! * under + layer[from]!
  }
}

function highest(cells: Int32Array, { layer }: Scratch, light: Float32Array): void {
  for (let i = 0, from = 0; i < cells.length; i++) {
    const to = cells[i]! * 3
    for (let c = 0; c < 3; c++, from++) light[to + c] = Math.max(light[to + c]!, layer[from]!)
  }
}

function add(cells: Int32Array, { layer }: Scratch, light: Float32Array): void {
  for (let i = 0, from = 0; i < cells.length; i++) {
    const to = cells[i]! * 3
    for (let c = 0; c < 3; c++, from++) light[to + c]! += layer[from]!
  }
}

function mask(cells: Int32Array, { layer, now }: Scratch, light: Float32Array): void {
  const weight = now[its.weight]!
  const under = 1 - weight
  for (let i = 0, from = 0; i < cells.length; i++) {
    const to = cells[i]! * 3
    for (let c = 0; c < 3; c++, from++) light[to + c]! *= under + layer[from]! * weight
  }
}
