// All advice on a show with one of its kits: what stands tonight, and every song as it will be played.

import { CodedError } from '../errors.ts'
import type { Rig } from '../rig/schema.ts'
import { stageOf } from '../rig/stage.ts'
import type { Kit, Show } from '../show/schema.ts'
import type { Advice } from './advice.ts'
import { cablesAdvice } from './cables.ts'
import { cuesAdvice } from './cues.ts'
import { faultsAdvice } from './faults.ts'
import { heldAdvice } from './flash/held.ts'
import { type MeasureProgress, measureSong } from './flash/measure.ts'
import { flashAdvice } from './flash/words.ts'
import { partsAdvice } from './parts.ts'
import { patchAdvice } from './patch.ts'
import { limitAdvice, socketsAdvice, supplyAdvice } from './power.ts'

/**
 * All advice on a show, at one go: on patch, parts, faults and sockets, then on each song's cues, flashes and currents in
 * the show's order.
 * A four-minute song takes some tenths of a second; `onProgress` hears of it now and then.
 * @throws CodedError `kit.unknown`
 */
export function adviseShow(
  rig: Rig,
  show: Show,
  kitId: string,
  onProgress?: (progress: MeasureProgress) => void,
): Advice[] {
  const steps = adviceSteps(rig, show, kitId)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
    onProgress?.(step.value)
  }
}

/** The same in steps, for a caller that has other work between them: each yield is progress, and it may be left at any. */
export function* adviceSteps(rig: Rig, show: Show, kitId: string): Generator<MeasureProgress, Advice[]> {
  const advice = stageAdvice(rig, show, kitId)
  for (const song of show.songOrder) advice.push(...(yield* songAdvice(rig, show, kitId, song)))
  return advice
}

/**
 * What stands tonight: patch, parts, faults, sockets, cables. Of the songs it asks only which parts have a track.
 * @throws CodedError `kit.unknown`
 */
export function stageAdvice(rig: Rig, show: Show, kitId: string): Advice[] {
  const kit = kitOf(show, kitId)
  const stage = stageOf(rig, kit)
  return [
    ...patchAdvice(rig, kit),
    ...partsAdvice(rig, show, kit, stage),
    ...faultsAdvice(rig, stage),
    ...socketsAdvice(rig, kit),
    ...cablesAdvice(rig, kit),
  ]
}

/**
 * One song as it will be played, in steps: dark cues, flashes, currents. It reads no other song of the show.
 * @throws CodedError `kit.unknown`; as `compileSong`
 */
export function* songAdvice(
  rig: Rig,
  show: Show,
  kitId: string,
  song: string,
): Generator<MeasureProgress, Advice[]> {
  const stage = stageOf(rig, kitOf(show, kitId))
  const measured = yield* measureSong(rig, show, kitId, song)
  return [
    ...cuesAdvice(show, stage, song),
    ...flashAdvice(measured),
    ...heldAdvice(measured),
    ...supplyAdvice(rig, show, song, measured.timeline, measured.peaks),
    ...limitAdvice(rig, show, song, measured.timeline, measured.peaks),
  ]
}

function kitOf(show: Show, kitId: string): Kit {
  const kit = show.kits[kitId]
  if (!kit) throw new CodedError('kit.unknown', `there is no kit "${kitId}"`, `kits.${kitId}`)
  return kit
}
