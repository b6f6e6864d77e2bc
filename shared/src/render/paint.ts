// Painting one cue onto its track's layer: motion, level and colour of every element.

import { GRADIENT_STEPS } from '../light/gradient.ts'
import { luminanceOf } from '../light/lightness.ts'
import type { CompiledCue, CompiledPart, CompiledSong } from './compiled.ts'
import { move } from './motion/motion.ts'
import { tooFast } from './motion/strobe.ts'
import { SNAP } from './motion/wave.ts'
import { cyclesAt } from './phase.ts'
import type { Scratch } from './scratch.ts'

/**
 * Paints a cue by `scratch.stroke`. Light of an element = its colour × Y, Y the luminance of level × fades × motion.
 * `steady`: time stands still, so that strobes and pulses show their mean; `calm`: strobes do.
 */
export function paint(
  song: CompiledSong,
  part: CompiledPart,
  cue: CompiledCue,
  steady: boolean,
  calm: boolean,
  scratch: Scratch,
): void {
  const { stroke, wave, frame, motion, colour } = scratch
  const layout = cue.byCell ? part.cellLayout : part.fixtureLayout
  const level = levelAt(cue, stroke.at) * stroke.fade
  setWave(cue, scratch)
  if (cue.along === 'time') {
    lookUp(cue.gradient, (stroke.at - cue.origin) / cue.gradientLength, colour)
  } else if (cue.along === 'none') {
    colour.set(cue.gradient)
  }
  if (showsMean(cue, wave.advance, steady, calm, scratch)) {
    paintMean(cue, part, level, scratch)
    return
  }
  move(motion, layout, wave, cue, frame, song.timeline.tempo)
  const x = layout.x[0]
  for (let i = 0; i < layout.count; i++) {
    const m = motion[i]!
    if (cue.along === 'part') lookUp(cue.gradient, x[i]!, colour)
    else if (cue.along === 'motion') lookUp(cue.gradient, m, colour)
    lay(scratch, layout.first[i]!, layout.cells[i]!, luminanceOf(level * (cue.floor + (1 - cue.floor) * m)))
  }
}

function setWave(cue: CompiledCue, { stroke, wave }: Scratch): void {
  const phase = cyclesAt(cue, stroke.at, stroke.atSeconds)
  wave.phase = phase + SNAP
  wave.advance = Math.max(0, cyclesAt(cue, stroke.until, stroke.untilSeconds) - phase - 2 * SNAP)
  wave.spread = cue.spread
  wave.duty = cue.duty
  wave.shape = cue.shape
  wave.seed = cue.seed
}

function showsMean(
  cue: CompiledCue,
  advance: number,
  steady: boolean,
  calm: boolean,
  { frame }: Scratch,
): boolean {
  if (cue.mean.length === 0) return false
  if (cue.kind === 'strobe') {
    const aFrame = cyclesAt(cue, frame.to, frame.toSeconds) - cyclesAt(cue, frame.from, frame.fromSeconds)
    return steady || calm || tooFast(aFrame)
  }
  return (steady && cue.kind === 'pulse') || advance >= 1
}

/** The mean of the light over a cycle: the same for every element, but for a gradient along the part. */
function paintMean(cue: CompiledCue, part: CompiledPart, level: number, scratch: Scratch): void {
  const { mean, gradient, along, floor } = cue
  const { colour } = scratch
  const layout = cue.byCell ? part.cellLayout : part.fixtureLayout
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
function lay({ layer, colour, stroke }: Scratch, first: number, cells: number, y: number): void {
  const { keep, gain, greater } = stroke
  for (let at = first * 3; at < (first + cells) * 3; at += 3) {
    for (let c = 0; c < 3; c++) {
      const light = colour[c]! * y
      layer[at + c] = greater ? Math.max(layer[at + c]!, light) : layer[at + c]! * keep + light * gain
    }
  }
}

/** The level (0…1) at a position in ticks: even in L* between two points; the last of several at one place holds. */
function levelAt({ level, pointAt, pointLevel }: CompiledCue, at: number): number {
  const last = pointAt.length - 1
  if (last < 0) return level
  let next = 0
  while (next <= last && pointAt[next]! <= at) next++
  if (next === 0) return level * pointLevel[0]!
  if (next > last) return level * pointLevel[last]!
  const share = (at - pointAt[next - 1]!) / (pointAt[next]! - pointAt[next - 1]!)
  return level * (pointLevel[next - 1]! + (pointLevel[next]! - pointLevel[next - 1]!) * share)
}

/** Reads a gradient's table at a place, 0…1; beyond that its ends hold. */
function lookUp(table: Float32Array, at: number, colour: Float32Array): void {
  const place = GRADIENT_STEPS * Math.min(1, Math.max(0, at))
  const step = Math.min(GRADIENT_STEPS - 1, Math.floor(place))
  const share = place - step
  for (let c = 0; c < 3; c++) {
    const from = table[step * 3 + c]!
    colour[c] = from + (table[step * 3 + 3 + c]! - from) * share
  }
}
