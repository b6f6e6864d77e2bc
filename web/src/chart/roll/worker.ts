// The worker that renders light rolls with the renderer the engine has, so that the page stays free.

// Before anything that holds a schema.
import '@glowchart/shared/without-eval.ts'
import { createEasel } from './easel.ts'
import type { FromRollWorker, ToRollWorker } from './request.ts'

declare const self: DedicatedWorkerGlobalScope

const easel = createEasel()

self.onmessage = ({ data }: MessageEvent<ToRollWorker>) => {
  void answer(data).catch((error: unknown) => {
    tell({ type: 'failed', says: String(error) })
  })
}

async function answer(message: ToRollWorker): Promise<void> {
  if (message.type !== 'draw') return easel.take(message)
  const { contents, drawn } = easel.draw(message)
  if (!drawn) return tell({ type: 'drawn', contents, drawn })
  const { data, width, height } = drawn.pixels
  const picture = await createImageBitmap(new ImageData(data, width, height))
  tell({ type: 'drawn', contents, drawn: { index: drawn.index, picture } }, [picture])
}

function tell(message: FromRollWorker, transfer: Transferable[] = []): void {
  self.postMessage(message, transfer)
}
