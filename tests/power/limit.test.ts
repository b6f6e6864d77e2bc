// The power limit: current on the bytes sent stays under it at every frame, and hue is kept.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { chromaticityShift } from '@glowchart/shared/light/chromaticity.ts'
import { measurePower } from '@glowchart/shared/power/measure.ts'
import { ampsOfLevels, powerPlan } from '@glowchart/shared/power/plan.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { frameFrom, frameSpan } from '@glowchart/shared/render/frames.ts'
import { levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { describe, expect, it } from 'vitest'

const { rig, show } = demoBundle()
const kitId = show.tonight
const LIMIT = 1.7
const RATE = 40

/** The demo with the limit armed on its boxes. */
function armed(): typeof show {
  let documents = { rig, show }
  for (const box of Object.keys(show.kits[kitId]!.boxes)) {
    documents = applyEdit(documents, 'setPowerLimit', { kit: kitId, box, amps: LIMIT }).next
  }
  return documents.show
}

/** Every frame of a song: its light before levels, and the amps that its levels draw. */
function* frames(
  of: typeof show,
  withRig: typeof rig,
  song: string,
): Generator<{ light: Float32Array; amps: Float64Array }> {
  const compiled = compileSong(withRig, of, kitId, song)
  const kit = of.kits[kitId]!
  const plan = levelPlan(withRig, kit)
  const power = powerPlan(withRig, kit, plan)
  const scratch = renderScratch(compiled)
  const light = new Float32Array(3 * compiled.stage.cells)
  const levels = new Uint8Array(512 * plan.universes.length)
  const amps = new Float64Array(power.boxes.length)
  const count = frameFrom(compiled, compiled.timeline.length, RATE)
  for (let n = 0; n < count; n++) {
    const { from, to } = frameSpan(compiled, n, RATE)
    renderLight(compiled, from, to, freshLive(), scratch, light)
    applyLimits(compiled, freshLive(), light)
    toLevels(plan, light, levels)
    ampsOfLevels(plan, power, levels, amps)
    yield { light, amps }
  }
}

const curved: typeof rig = {
  ...rig,
  builds: Object.fromEntries(
    Object.entries(rig.builds).map(([id, build]) => [
      id,
      { ...build, response: { curve: 'gamma' as const, gamma: 2.2 } },
    ]),
  ),
}

describe('an armed power limit', () => {
  it.each([
    ['linear decoders', rig],
    ['decoders with a curve', curved],
  ])('is kept at every frame of every song, on the bytes sent (%s), and keeps every hue', (_, withRig) => {
    let dimmed = 0
    let most = 0
    let worst = 0
    for (const song of show.songOrder) {
      const limited = frames(armed(), withRig, song)
      for (const { light, amps } of frames(show, withRig, song)) {
        const free = light.slice()
        const freeMost = Math.max(...amps)
        const held = limited.next().value!
        most = Math.max(most, ...held.amps)
        if (freeMost > LIMIT) dimmed++
        for (let i = 0; i < free.length; i += 3) {
          const [a, b] = [free, held.light].map(l => [l[i]!, l[i + 1]!, l[i + 2]!] as const)
          if (Math.max(...b!) > 1e-4) worst = Math.max(worst, chromaticityShift(a!, b!))
        }
      }
    }
    expect(dimmed, 'the show exceeds it').toBeGreaterThan(100)
    expect(most).toBeLessThanOrEqual(LIMIT)
    expect(most).toBeGreaterThan(0.95 * LIMIT)
    expect(worst).toBeLessThan(0.001)
  })
})

it('two boxes that listen to one address are metered each for its own lights', () => {
  const [first, second] = Object.keys(rig.boxes) as [string, string]
  const { universe, address } = rig.boxes[first]!
  const twins = { ...rig, boxes: { ...rig.boxes, [second]: { ...rig.boxes[second]!, universe, address } } }
  const kit = show.kits[kitId]!
  const amps = (of: typeof rig) => {
    const plan = levelPlan(of, kit)
    const out = new Float64Array(2)
    ampsOfLevels(plan, powerPlan(of, kit, plan), new Uint8Array(512 * plan.universes.length).fill(255), out)
    return [...out].map(a => a.toFixed(6))
  }
  expect(amps(twins)).toEqual(amps(rig))
})

describe('the currents of a song', () => {
  it('are the greatest of its frames, by bar', () => {
    const song = show.songOrder[0]!
    const steps = measurePower(rig, show, kitId, song)
    let step = steps.next()
    while (!step.done) step = steps.next()
    const peaks = step.value
    let most = [0, 0]
    for (const { amps } of frames(show, rig, song)) most = most.map((a, b) => Math.max(a, amps[b]!))
    expect(peaks.map(peak => peak.amps)).toEqual(most.map(Math.fround))
    for (const peak of peaks) expect(peak.bars[peak.bar]).toBe(peak.amps)
  })
})
