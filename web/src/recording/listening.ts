// What is asked of the worker that listens through a recording's samples, and what it answers.

import type { Problem } from '@glowchart/shared/errors.ts'

/** One channel at 44,100 Hz; `where` names the recording in errors. */
export interface ToListener {
  readonly find: 'peaks' | 'beats'
  readonly samples: Float32Array<ArrayBuffer>
  readonly where: string
}

export type FromListener =
  | { readonly type: 'progress'; readonly share: number }
  | { readonly type: 'peaks'; readonly peaks: Float32Array<ArrayBuffer> }
  | { readonly type: 'beats'; readonly beats: readonly number[] }
  | { readonly type: 'refused'; readonly problem: Problem }

/** Starts a worker on a job. Returns what stops it. */
export function listen(job: ToListener, hear: (said: FromListener) => void): () => void {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const end = () => worker.terminate()
  worker.onmessage = ({ data }: MessageEvent<FromListener>) => {
    if (data.type !== 'progress') end()
    hear(data)
  }
  worker.postMessage(job, [job.samples.buffer])
  return end
}
