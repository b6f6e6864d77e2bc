// The worker that reads songs for advice: step by step, so that it can hear of a newer request and leave off.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songAdvice, stageAdvice } from '@glowchart/shared/advice/advise.ts'
import type { FromAdviceWorker, ToAdviceWorker } from './request.ts'

declare const self: DedicatedWorkerGlobalScope

let newest = 0

self.onmessage = ({ data }: MessageEvent<ToAdviceWorker>) => {
  newest = data.id
  void advise(data)
}

async function advise({ id, rig, show, stage, songs }: ToAdviceWorker): Promise<void> {
  const found = (song: string | null, advice: Advice[]) =>
    self.postMessage({ id, song, advice } satisfies FromAdviceWorker)
  if (stage) found(null, stageAdvice(rig, show, show.tonight))
  for (const song of songs) {
    const steps = songAdvice(rig, show, show.tonight, song)
    for (let step = steps.next(); ; step = steps.next()) {
      if (step.done) {
        found(song, step.value)
        break
      }
      await nextMessage()
      if (newest !== id) return
    }
  }
}

/** Lets the messages that wait come in. */
const nextMessage = (): Promise<void> => new Promise(resolve => setTimeout(resolve))
