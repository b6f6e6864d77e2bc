// The worker that draws lines in ink with the renderer the engine has, so that the page stays free.

// Before anything that holds a schema.
import '@glowchart/shared/without-eval.ts'
import { songCompiler } from '@glowchart/shared/render/compile.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { drawInk } from './draw.ts'
import type { FromInkWorker, ToInkWorker } from './request.ts'

declare const self: DedicatedWorkerGlobalScope

const compile = songCompiler()
let documents: { rig: Rig; show: Show } | null = null

self.onmessage = ({ data }: MessageEvent<ToInkWorker>) => {
  if (data.type === 'load') {
    documents = data
    return
  }
  drawn(data).catch((error: unknown) => tell({ type: 'failed', id: data.id, says: String(error) }))
}

async function drawn({ id, song, shape }: Extract<ToInkWorker, { type: 'draw' }>): Promise<void> {
  if (!documents) throw new Error('there are no documents yet')
  const { rig, show } = documents
  const compiled = compile(rig, show, show.tonight, song)
  const { data, width, height } = drawInk(compiled, show.output.rate, shape)
  const picture = await createImageBitmap(new ImageData(data, width, height))
  tell({ type: 'drawn', id, picture }, [picture])
}

function tell(message: FromInkWorker, transfer: Transferable[] = []): void {
  self.postMessage(message, transfer)
}
