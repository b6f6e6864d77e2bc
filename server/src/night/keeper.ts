// What the supervisor keeps of the night: the log, and where the show was left. It outlives both app and engine.

import type { EngineStatus, FromEngine, Resume } from '@glowchart/shared/messages.ts'
import type { NightEvent } from '@glowchart/shared/night/event.ts'
import { namesOf } from '@glowchart/shared/night/names.ts'
import { freshWatch, watchSilence, watchStatus } from '@glowchart/shared/night/watch.ts'
import { nodeEvents } from '@glowchart/shared/night/wires.ts'
import { isUnderWay, type Kept, keptOf } from '@glowchart/shared/recovery/kept.ts'
import type { EngineLink } from '../app/engine-link.ts'
import { leftWriter, readLeft } from './left.ts'
import { openNightLog } from './night-log.ts'

/**
 * Nodes that light is sent to are asked so often, ms: each wish makes three polls 2.75 s apart, so that it is one
 * unbroken row, and a node's silence is written down though no page is open.
 */
const ASK_EVERY = 8250

type Held = Extract<FromEngine, { type: 'holding' }>

export interface Keeper {
  hear(message: FromEngine | { type: 'up' } | { type: 'down' }): void
  note(kind: NightEvent['kind'], says: string, fault?: boolean): void
  /** What the last start left, until it is answered or something is under way again. */
  readonly offer: Kept | null
  /** It has been taken up, or put aside. */
  answered(): void
  close(): Promise<void>
}

interface Options {
  dataFolder: string
  /** What the engine holds. */
  held(): Held | null
  link: Pick<EngineLink, 'request'>
  /** The offer is there no more. */
  onAnswered(): void
  /** Ms since 1970. */
  now?: () => number
}

export function keepNight({ dataFolder, held, link, onAnswered, now = Date.now }: Options): Keeper {
  const log = openNightLog(dataFolder)
  const left = leftWriter(dataFolder)
  let offer = readLeft(dataFolder, now())
  let watch = freshWatch
  let status: EngineStatus | null = null

  const keep = (result: { watch: typeof watch; events: readonly NightEvent[] }): void => {
    watch = result.watch
    for (const event of result.events) log.add(event)
  }
  const note = (kind: NightEvent['kind'], says: string, fault = false): void =>
    log.add({ at: new Date(now()).toISOString(), kind, says, ...(fault && { fault }) })
  const answered = (): void => {
    if (!offer) return
    offer = null
    onAnswered()
  }
  const leave = ({ output }: Resume): void => {
    const documents = held()
    if (!status || !documents) return
    const kept = keptOf(status, output, documents, namesOf(documents), now())
    // What was left stays offered until hands have done something new.
    if (offer && !isUnderWay(kept)) return
    answered()
    left.put(kept)
  }
  const asking = setInterval(() => {
    // Each node once, however many universes it takes.
    const nodes = new Map(
      (status?.outputs ?? []).flatMap(({ route: { to } }) =>
        to.protocol === 'artnet' ? [[`${to.host}:${to.port}`, { address: to.host, port: to.port }]] : [],
      ),
    )
    if (nodes.size === 0) return
    const hosts = [...nodes.values()].slice(0, 64)
    void link.request({ type: 'discover', discover: { everywhere: false, hosts } })
  }, ASK_EVERY)
  asking.unref()

  return {
    get offer() {
      return offer
    },
    answered,
    note,
    hear(message) {
      switch (message.type) {
        case 'status':
          status = message.status
          return keep(watchStatus(watch, status, namesOf(held()), now()))
        case 'resume':
          return leave(message.state)
        case 'network': {
          if (!status) return
          const { wires, said } = nodeEvents(watch.wires, message.network, status, now())
          watch = { ...watch, wires }
          for (const { kind, says, fault } of said) note(kind, says, fault)
          return
        }
        case 'down':
          status = null
          return keep(watchSilence(watch, namesOf(held()), now()))
      }
    },
    async close() {
      clearInterval(asking)
      await Promise.all([log.close(), left.close()])
    },
  }
}
