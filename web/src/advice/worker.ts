// The worker that reads songs for advice: step by step, so that it can hear of a newer request and leave off.

// Before anything that holds a schema.
import '@glowchart/shared/without-eval.ts'
import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songAdvice, stageAdvice } from '@glowchart/shared/advice/advise.ts'
import { applyDiff } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { FromAdviceWorker, ToAdviceWorker } from './request.ts'

declare const self: DedicatedWorkerGlobalScope

let newest = 0
let held: Documents | null = null

self.onmessage = ({ data }: MessageEvent<ToAdviceWorker>) => {
  newest = data.id
  held = documentsOf(data)
  void advise(held, data)
}

function documentsOf({ documents }: ToAdviceWorker): Documents {
  if (!('change' in documents)) return documents
  const { rig, show } = held!
  return { rig: applyDiff(rig, documents.change.rig), show: applyDiff(show, documents.change.show) }
}

async function advise({ rig, show }: Documents, { id, stage, songs }: ToAdviceWorker): Promise<void> {
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
