// Advice on a show before it is published: read between other work, and of a song only once while it stays as it is.

import { setImmediate as otherWork } from 'node:timers/promises'
import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songAdvice, stageAdvice } from '@glowchart/shared/advice/advise.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

/** What was read of a song, by the song: it goes when the song goes. */
const known = new WeakMap<object, { from: readonly unknown[]; advice: readonly Advice[] }>()

export interface Reading {
  /** Leaves it off. */
  readonly signal?: AbortSignal
  /** How many of the songs have been read: at once, and after each. */
  told?(read: number, songs: number): void
}

/** All advice on a show with tonight's kit. @throws the signal's reason, once that says that nobody waits */
export async function adviceOn({ rig, show }: Documents, { signal, told }: Reading = {}): Promise<Advice[]> {
  const { tonight } = show
  told?.(0, show.songOrder.length)
  const advice = stageAdvice(rig, show, tonight)
  // All that a song's advice is read from, besides the song.
  const { [tonight]: kit } = show.kits
  const from = [rig, kit, show.parts, show.partOrder, show.looks, show.swatches, show.output.rate]
  for (const [index, id] of show.songOrder.entries()) {
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
      signal?.throwIfAborted()
      step = steps.next()
    }
    known.set(song, { from, advice: step.value })
    advice.push(...step.value)
    told?.(index + 1, show.songOrder.length)
  }
  return advice
}
