// Advice on a show before it is published: read between other work, and of a song only once while it stays as it is.

import { setImmediate as otherWork } from 'node:timers/promises'
import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songAdvice, stageAdvice } from '@glowchart/shared/advice/advise.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

/** What was read of a song, by the song: it goes when the song goes. */
const known = new WeakMap<object, { from: readonly unknown[]; advice: readonly Advice[] }>()

/** All advice on a show with tonight's kit. */
export async function adviceOn({ rig, show }: Documents): Promise<Advice[]> {
  const { tonight } = show
  const advice = stageAdvice(rig, show, tonight)
  // All that a song's advice is read from, besides the song.
  const { [tonight]: kit } = show.kits
  const from = [rig, kit, show.parts, show.partOrder, show.looks, show.swatches, show.output.rate]
  for (const id of show.songOrder) {
    const song = show.songs[id]!
    const before = known.get(song)
    if (before?.from.every((value, i) => value === from[i])) {
      advice.push(...before.advice)
      continue
    }
    const steps = songAdvice(rig, show, tonight, id)
    let step = steps.next()
    while (!step.done) {
      await otherWork()
      step = steps.next()
    }
    known.set(song, { from, advice: step.value })
    advice.push(...step.value)
  }
  return advice
}
