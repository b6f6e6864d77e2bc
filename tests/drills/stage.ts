// The product on a drill's stage: serve's real processes, one page, the engine's own pipe, and a receiver at the wire.

import { execFileSync } from 'node:child_process'
import type { EngineLink } from '@glowchart/server/app/engine-link.ts'
import { pipeLink } from '@glowchart/server/engine/link.ts'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { engineAddress } from '@glowchart/server/engine/pipe.ts'
import { decodeFrame, type Frame } from '@glowchart/shared/frame.ts'
import type { EngineStatus, Resume, Transport } from '@glowchart/shared/messages.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import type { TempoMap } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'
import { openReceiver, type Receiver } from './receiver.ts'

export const RATE = 40
export const PERIOD = 1000 / RATE

export interface Stage {
  readonly served: Served
  readonly page: PageSocket
  readonly receiver: Receiver
  /** Straight to the engine: MIDI goes in here, and it outlives the app. */
  readonly link: EngineLink
  /** Frames, statuses and states as the engine told them, since `watch` was begun anew. */
  readonly told: { frames: Frame[]; statuses: EngineStatus[]; resumes: Resume[] }
  /** Presses on the transport; throws when it is refused. */
  press(transport: Transport): Promise<void>
  tempoOf(song: string): TempoMap
  /** The next status that fits, from the engine itself. */
  status(fits: (status: EngineStatus) => boolean, within?: number): Promise<EngineStatus>
  close(): Promise<void>
}

/** Both protocols to one receiver, every frame. */
export function outputTo(port: number, priority = 100): Output {
  const at = { host: '127.0.0.1', port, mode: 'every' as const }
  return {
    rate: RATE,
    sync: false,
    sourceName: 'Glowchart drill',
    routes: [
      { universe: 1, to: { protocol: 'sacn', ...at, wireUniverse: 1, priority, preview: false } },
      { universe: 1, to: { protocol: 'artnet', ...at, portAddress: 1 } },
    ],
  }
}

export async function openStage(words: string[] = [], env: Record<string, string> = {}): Promise<Stage> {
  const receiver = await openReceiver()
  // It is the one node there is.
  const served = await serveDemo(words, { GLOWCHART_ASK: `127.0.0.1:${receiver.port}`, ...env })
  const page = await openPage(served.url, 'drill-page-1')
  const folder = words.includes('--data') ? words[words.indexOf('--data') + 1]! : served.data
  const link = pipeLink(engineAddress(folder))
  const told: Stage['told'] = { frames: [], statuses: [], resumes: [] }
  const listeners = new Set<(status: EngineStatus) => void>()
  link.on(message => {
    if (message.type === 'up') {
      link.send({ type: 'watch' })
      link.send({ type: 'frames', on: true })
    } else if (message.type === 'frame') {
      const frame = decodeFrame(message.frame)
      if (frame) told.frames.push(frame)
    } else if (message.type === 'status') {
      told.statuses.push(message.status)
      for (const listener of listeners) listener(message.status)
    } else if (message.type === 'resume') told.resumes.push(message.state)
  })
  const stage: Stage = {
    served,
    page,
    receiver,
    link,
    told,
    async press(transport) {
      const problem = await link.request({ type: 'transport', transport })
      if (problem) throw new Error(`${transport.do} was refused: ${problem.message}`)
    },
    tempoOf: song => timelineOf(page.hello.show.songs[song]!).tempo,
    status: (fits, within = 20_000) =>
      new Promise((resolve, reject) => {
        const end = (): void => {
          listeners.delete(listener)
          clearTimeout(timer)
        }
        const listener = (status: EngineStatus): void => {
          if (!fits(status)) return
          end()
          resolve(status)
        }
        const timer = setTimeout(() => {
          end()
          reject(new Error(`no such status within ${within} ms; the last: ${said(told.statuses.at(-1))}`))
        }, within)
        listeners.add(listener)
      }),
    async close() {
      link.close()
      page.close()
      await served.close()
      receiver.close()
    },
  }
  try {
    await stage.status(status => status.song !== null)
    const problem = await link.request({ type: 'output', output: outputTo(receiver.port) })
    if (problem) throw new Error(problem.message)
    await receiver.more(8)
  } catch (error) {
    await stage.close()
    throw error
  }
  return stage
}

const said = (status: EngineStatus | undefined): string =>
  JSON.stringify(status && { ...status, live: undefined, outputs: undefined })

/** Opens a stage, runs the drill on it, and clears it whatever happens. */
export async function onStage<T>(
  drill: (stage: Stage) => Promise<T>,
  ...how: Parameters<typeof openStage>
): Promise<T> {
  const stage = await openStage(...how)
  try {
    return await drill(stage)
  } finally {
    await stage.close()
  }
}

/** Resolves when the engine's clock has reached a time. */
export const until = (at: number): Promise<void> =>
  new Promise(resolve => setTimeout(resolve, Math.max(0, at - monotonicMs())))

/** The supervisor and all that it has started. */
export function treeOf({ child }: Served): number[] {
  const rows = execFileSync('ps', ['-A', '-o', 'pid=,ppid='], { encoding: 'utf8' }).trim().split('\n')
  const pairs = rows.map(row => row.trim().split(/\s+/).map(Number) as [number, number])
  const all = [child.pid!]
  for (const pid of all) all.push(...pairs.filter(([, parent]) => parent === pid).map(([one]) => one))
  return all
}
