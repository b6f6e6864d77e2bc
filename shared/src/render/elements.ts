// From motion to light: the colour and luminance of every element of a part, laid on the track's layer.

import { GRADIENT_STEPS } from '../light/gradient.ts'
import { luminanceOf } from '../light/lightness.ts'
import type { CompiledCue } from './compiled.ts'
import type { Layout } from './motion/layout.ts'
import { its } from './now.ts'
import type { Scratch } from './scratch.ts'

/** Sets the colour that all elements have, where they have one colour. */
export function setColour(cue: CompiledCue, { now, colour }: Scratch): void {
  if (cue.along === 'none') colour.set(cue.gradient)
  else if (cue.along === 'time')
    lookUp(cue.gradient, (now[its.at]! - cue.origin) / cue.gradientLength, colour)
}

/** Lays the light of a cue whose motion stands in `scratch.motion`. */
export function layMotion(cue: CompiledCue, layout: Layout, scratch: Scratch): void {
  const { motion, colour } = scratch
  const { along, gradient, floor } = cue
  const level = scratch.now[its.level]!
  const x = layout.x[0]
  const graded = along === 'part' || along === 'motion'
  for (let i = 0; i < layout.count; i++) {
    const m = motion[i]!
    if (graded) lookUp(gradient, along === 'part' ? x[i]! : m, colour)
    lay(scratch, layout.first[i]!, layout.cells[i]!, luminanceOf(level * (floor + (1 - floor) * m)))
  }
}

/** Lays the mean of a cue's light over a cycle: the same for every element, but for a gradient along the part. */
export function layMean(cue: CompiledCue, layout: Layout, scratch: Scratch): void {
  const { mean, gradient, along, floor } = cue
  const { colour } = scratch
  const level = scratch.now[its.level]!
  let light = 0
  let red = 0
  let green = 0
  let blue = 0
  for (let i = 0; i < mean.length; i += 2) {
    const y = luminanceOf(level * (floor + (1 - floor) * mean[i]!)) * mean[i + 1]!
    light += y
    if (along !== 'motion') continue
    lookUp(gradient, mean[i]!, colour)
    red += colour[0]! * y
    green += colour[1]! * y
    blue += colour[2]! * y
  }
  if (along === 'motion') {
    colour[0] = red
    colour[1] = green
    colour[2] = blue
    light = 1
  }
  for (let i = 0; i < layout.count; i++) {
    if (along === 'part') lookUp(gradient, layout.x[0][i]!, colour)
    lay(scratch, layout.first[i]!, layout.cells[i]!, light)
  }
}

/** Lays `scratch.colour` times a luminance on so many cells of the layer. */
function lay({ layer, colour, now, brighter }: Scratch, first: number, cells: number, y: number): void {
  const keep = now[its.keep]!
  const gain = now[its.gain]!
  const red = colour[0]! * y
  const green = colour[1]! * y
  const blue = colour[2]! * y
  const end = (first + cells) * 3
  for (let at = first * 3; at < end; at += 3) {
    if (brighter) {
      layer[at] = Math.max(layer[at]!, red)
      layer[at + 1] = Math.max(layer[at + 1]!, green)
      layer[at + 2] = Math.max(layer[at + 2]!, blue)
    } else {
      layer[at] = layer[at]! * keep + red * gain
      layer[at + 1] = layer[at + 1]! * keep + green * gain
      layer[at + 2] = layer[at + 2]! * keep + blue * gain
    }
  }
}

/** Reads a gradient's table at a place, 0…1; beyond that its ends hold. */
function lookUp(table: Float32Array, at: number, colour: Float32Array): void {
  const place = GRADIENT_STEPS * Math.min(1, Math.max(0, at))
  const step = Math.min(GRADIENT_STEPS - 1, Math.floor(place)) | 0
  const share = place - step
  const i = step * 3
  colour[0] = table[i]! + (table[i + 3]! - table[i]!) * share
  colour[1] = table[i + 1]! + (table[i + 4]! - table[i + 1]!) * share
  colour[2] = table[i + 2]! + (table[i + 5]! - table[i + 2]!) * share
}
