// The worker that meters the songs' currents: step by step, so that it can hear of a newer request and leave off.

// Before anything that holds a schema.
import '@glowchart/shared/without-eval.ts'
import { measurePower } from '@glowchart/shared/power/measure.ts'
import type { FromPeakWorker, ToPeakWorker } from './request.ts'

declare const self: DedicatedWorkerGlobalScope

let newest = 0

self.onmessage = ({ data }: MessageEvent<ToPeakWorker>) => {
  newest = data.id
  void meter(data)
}

async function meter({ id, rig, show, kit, songs }: ToPeakWorker): Promise<void> {
  const tell = (message: FromPeakWorker) => self.postMessage(message)
  for (const song of songs) {
    const steps = measurePower(rig, show, kit, song)
    for (let step = steps.next(); ; step = steps.next()) {
      if (step.done) {
        tell({ id, song, peaks: step.value })
        break
      }
      tell({ id, song, share: step.value.frames / step.value.of })
      await nextMessage()
      if (newest !== id) return
    }
  }
}

/** Lets the messages that wait come in. */
const nextMessage = (): Promise<void> => new Promise(resolve => setTimeout(resolve))
