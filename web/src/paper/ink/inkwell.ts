// Asks the paper's worker, and knows when everything that was asked has come: only then is a sheet ready to print.

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { create } from 'zustand'
import type { RollShape } from '../../chart/roll/request.ts'
import type { FromInkWorker, ToInkWorker } from './request.ts'

interface InkState {
  /** Answers that are still to come. */
  readonly waiting: number
  /** The last failure in words; empty while all is well. */
  readonly failed: string
}

export const useInk = create<InkState>(() => ({ waiting: 0, failed: '' }))

type Take = (picture: ImageBitmap) => void

let worker: Worker | null = null
let next = 1
const asked = new Map<number, Take>()

/** Takes new documents: what was asked of older ones is dropped. */
export function fillInkwell({ rig, show }: Documents): void {
  emptyInkwell()
  worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  worker.onmessage = ({ data }: MessageEvent<FromInkWorker>) => {
    const take = asked.get(data.id)
    asked.delete(data.id)
    if (data.type === 'failed') useInk.setState({ failed: data.says })
    else take?.(data.picture)
    useInk.setState({ waiting: asked.size })
  }
  tell({ type: 'load', rig, show })
  useInk.setState({ failed: '' })
}

export function emptyInkwell(): void {
  worker?.terminate()
  worker = null
  asked.clear()
  useInk.setState({ waiting: 0 })
}

/** Asks for a line in ink. Returns what takes the wish back. */
export function askForInk(song: string, shape: RollShape, take: Take): () => void {
  const id = next++
  asked.set(id, take)
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
