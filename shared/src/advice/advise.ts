// All advice on a show with one of its kits: what stands tonight, and every song as it will be played.

import { CodedError } from '../errors.ts'
import type { Rig } from '../rig/schema.ts'
import { stageOf } from '../rig/stage.ts'
import type { Show } from '../show/schema.ts'
import type { Advice } from './advice.ts'
import { cuesAdvice } from './cues.ts'
import { faultsAdvice } from './faults.ts'
import { type MeasureProgress, measureSong } from './flash/measure.ts'
import { flashAdvice } from './flash/words.ts'
import { partsAdvice } from './parts.ts'
import { patchAdvice } from './patch.ts'

/**
 * All advice on a show, at one go: on patch, parts, faults and cues, then on each song's flashes in the show's order.
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
  const kit = show.kits[kitId]
  if (!kit) throw new CodedError('kit.unknown', `there is no kit "${kitId}"`, `kits.${kitId}`)
  const stage = stageOf(rig, kit)
  const advice = [
    ...patchAdvice(rig, kit),
    ...partsAdvice(rig, show, kit, stage),
    ...faultsAdvice(rig, stage),
    ...cuesAdvice(show, stage),
  ]
  for (const song of show.songOrder) advice.push(...flashAdvice(yield* measureSong(rig, show, kitId, song)))
  return advice
}
