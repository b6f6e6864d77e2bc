// Advice on a show before it is published: read between other work, and of a song only once while it stays as it is.

import { setImmediate as otherWork } from 'node:timers/promises'
import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songAdvice, stageAdvice } from '@glowchart/shared/advice/advise.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

/** Makes what gives all advice on a show with tonight's kit. */
export function adviser(): (documents: Documents) => Promise<Advice[]> {
  const known = new WeakMap<object, { from: readonly unknown[]; advice: readonly Advice[] }>()
  return async ({ rig, show }) => {
    const { tonight } = show
    const advice = stageAdvice(rig, show, tonight)
    // All that a song's advice is read from, besides the song.
    const from = [
      rig,
      show.kits[tonight],
      show.parts,
      show.partOrder,
      show.looks,
      show.swatches,
      show.output.rate,
    ]
    for (const id of show.songOrder) {
      const song = show.songs[id]!
      const before = known.get(song)
      if (before?.from.every((value, i) => value === from[i])) {
        advice.push(...before.advice)
        continue
      }
      const steps = songAdvice(rig, show, tonight, id)
      for (;;) {
        const step = steps.next()
        if (step.done) {
          known.set(song, { from, advice: step.value })
          advice.push(...step.value)
          break
        }
        await otherWork()
      }
    }
    return advice
  }
}
