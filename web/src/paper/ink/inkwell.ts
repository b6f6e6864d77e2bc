// Asks the paper's worker, and knows when everything that was asked has come: only then is a sheet ready to print.

import type { BoxPeak } from '@glowchart/shared/power/meter.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { create } from 'zustand'
import type { RollShape } from '../../chart/roll/request.ts'
import type { FromInkWorker, ToInkWorker } from './request.ts'

interface InkState {
  /** By song; of the documents as they were when the paper was last laid. */
  readonly peaks: Readonly<Record<string, readonly BoxPeak[]>>
  /** Answers that are still to come. */
  readonly waiting: number
  /** The last failure in words; empty while all is well. */
  readonly failed: string
}

export const useInk = create<InkState>(() => ({ peaks: {}, waiting: 0, failed: '' }))

type Take = (answer: Exclude<FromInkWorker, { type: 'failed' }>) => void

let worker: Worker | null = null
let next = 1
const asked = new Map<number, Take>()

/** Takes new documents: what was asked of older ones is dropped, and the currents of all songs are asked for. */
export function fillInkwell({ rig, show }: Documents): void {
  emptyInkwell()
  worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  worker.onmessage = ({ data }: MessageEvent<FromInkWorker>) => {
    const take = asked.get(data.id)
    asked.delete(data.id)
    if (data.type === 'failed') useInk.setState({ failed: data.says })
    else take?.(data)
    useInk.setState({ waiting: asked.size })
  }
  tell({ type: 'load', rig, show })
  for (const song of show.songOrder) {
    const id = next++
    asked.set(id, answer => {
      if (answer.type !== 'peaks') return
      useInk.setState(({ peaks }) => ({ peaks: { ...peaks, [song]: answer.peaks } }))
    })
    tell({ type: 'peaks', id, song })
  }
  useInk.setState({ peaks: {}, waiting: asked.size, failed: '' })
}

export function emptyInkwell(): void {
  worker?.terminate()
  worker = null
  asked.clear()
  useInk.setState({ waiting: 0 })
}

/** Asks for a line in ink. Returns what takes the wish back. */
export function askForInk(song: string, shape: RollShape, take: (picture: ImageBitmap) => void): () => void {
  const id = next++
  asked.set(id, answer => answer.type === 'drawn' && take(answer.picture))
  useInk.setState({ waiting: asked.size })
  tell({ type: 'draw', id, song, shape })
  return () => {
    asked.delete(id)
    useInk.setState({ waiting: asked.size })
  }
}

function tell(message: ToInkWorker): void {
  worker?.postMessage(message)
}
