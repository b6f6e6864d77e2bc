// The worker behind the paper: lines in ink first, as they are waited for, and between them the currents of songs.

// Before anything that holds a schema.
import '@glowchart/shared/without-eval.ts'
import { measurePower } from '@glowchart/shared/power/measure.ts'
import { songCompiler } from '@glowchart/shared/render/compile.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { drawInk } from './draw.ts'
import type { FromInkWorker, ToInkWorker } from './request.ts'

declare const self: DedicatedWorkerGlobalScope

type Draw = Extract<ToInkWorker, { type: 'draw' }>
type Measure = Extract<ToInkWorker, { type: 'peaks' }>

const compile = songCompiler()
const draws: Draw[] = []
const measures: Measure[] = []
let documents: { rig: Rig; show: Show } | null = null
let works = false

self.onmessage = ({ data }: MessageEvent<ToInkWorker>) => {
  if (data.type === 'load') documents = data
  else if (data.type === 'draw') draws.push(data)
  else measures.push(data)
  if (!works) void work()
}

async function work(): Promise<void> {
  works = true
  while (draws.length > 0 || measures.length > 0) {
    const measure = draws.length > 0 ? undefined : measures.shift()
    if (measure) await trying(measure, () => measured(measure))
    else await drawWaiting()
  }
  works = false
}

async function drawWaiting(): Promise<void> {
  for (let draw = draws.shift(); draw; draw = draws.shift()) {
    const one = draw
    await trying(one, () => drawn(one))
    await nextMessage()
  }
}

async function trying({ id }: Draw | Measure, attempt: () => Promise<void>): Promise<void> {
  try {
    await attempt()
  } catch (error) {
    tell({ type: 'failed', id, says: String(error) })
  }
}

async function drawn({ id, song, shape }: Draw): Promise<void> {
  const { rig, show } = loaded()
  const compiled = compile(rig, show, show.tonight, song)
  const { data, width, height } = drawInk(compiled, show.output.rate, shape)
  const picture = await createImageBitmap(new ImageData(data, width, height))
  tell({ type: 'drawn', id, picture }, [picture])
}

async function measured({ id, song }: Measure): Promise<void> {
  const { rig, show } = loaded()
  const steps = measurePower(rig, show, show.tonight, song)
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) return tell({ type: 'peaks', id, peaks: step.value })
    await nextMessage()
    await drawWaiting()
  }
}

function loaded(): { rig: Rig; show: Show } {
  if (!documents) throw new Error('there are no documents yet')
  return documents
}

/** Lets the messages that wait come in. */
const nextMessage = (): Promise<void> => new Promise(resolve => setTimeout(resolve))

function tell(message: FromInkWorker, transfer: Transferable[] = []): void {
  self.postMessage(message, transfer)
}
