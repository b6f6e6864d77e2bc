// The ways out: hands each rendered frame to the network, counts what left and what did not, and ends cleanly.

import { setImmediate as turn } from 'node:timers/promises'
import type { OutputStatus } from '@glowchart/shared/messages.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import { loadDmxnet } from './dmxnet-adapter.ts'
import { Link } from './link.ts'
import { CONTROL, type Destination, type Emit } from './packet.ts'
import { explainSendError } from './send-fault.ts'
import { keyOf, openStreams, type StreamOptions } from './streams.ts'

/** Turns of the event loop that closing waits for packets the system still holds. */
const PATIENCE = 100

export interface Outputs {
  /**
   * Hands over one rendered frame. `levels`: 512 bytes a universe in the order of `universes`; `now`: ms of a monotonic
   * clock, from which keep-alives are decided. Never throws, never waits; a send error is counted.
   */
  send(universes: readonly number[], levels: Uint8Array, now: number): void
  /** One entry a route, in the order of the output's routes. */
  status(): OutputStatus[]
  /** Bids Art-Net nodes forget the other source of their merge, before each of the next frames. */
  cancelMerge(): void
  /** Last sequence numbers by stream: what a restarted engine passes to `openOutputs`. */
  sequences(): Record<string, number>
  /** Ends the sACN streams, but not those that `next` goes on with (they must not blink), and closes every socket. */
  close(next?: Output): Promise<void>
}

/** @throws CodedError `output.duplicate` */
export async function openOutputs(output: Output, options: StreamOptions): Promise<Outputs> {
  const usesArtnet = output.routes.some(route => route.to.protocol === 'artnet')
  const streams = openStreams(output, options, usesArtnet ? await loadDmxnet() : undefined)
  const statuses = output.routes.map((route): OutputStatus => ({ route, packets: 0, errors: 0, says: '' }))
  const links = new Map<string, Link>()
  const places = new Map<Destination, { link: Link; done: Map<number, (error: Error | null) => void> }>()
  let clock = 0
  let closed = false

  const place = (to: Destination) => {
    const key = `${to.via ?? ''}|${to.multicast ? 'multicast' : to.host}`
    const link = links.get(key) ?? new Link(to, clock)
    links.set(key, link)
    const made = { link, done: new Map<number, (error: Error | null) => void>() }
    places.set(to, made)
    return made
  }

  /** What counts the outcome of one route's packets; made once, as a frame allocates nothing of ours. */
  const counter = (link: Link, to: Destination, route: number) => (error: Error | null) => {
    link.note(error)
    const status = route === CONTROL ? undefined : statuses[route]
    if (!status) return
    if (error) status.errors++
    else status.packets++
    status.says = error ? explainSendError(error, to) : ''
  }

  const emit: Emit = (bytes, to, route) => {
    const { link, done } = places.get(to) ?? place(to)
    let outcome = done.get(route)
    if (!outcome) {
      outcome = counter(link, to, route)
      done.set(route, outcome)
    }
    link.send(bytes, to, clock, outcome)
  }

  return {
    send(universes, levels, now) {
      if (closed) return
      clock = now
      streams.frame(universes, levels, now, emit)
    },
    status: () => statuses.map(status => ({ ...status })),
    cancelMerge: streams.cancelMerge,
    sequences() {
      const into: Record<string, number> = {}
      streams.sequences(into)
      return into
    },
    async close(next) {
      if (closed) return
      closed = true
      streams.end(new Set(next?.routes.map(keyOf)), emit)
      await turn()
      for (let i = 0; i < PATIENCE && [...links.values()].some(link => link.waiting); i++) await turn()
      for (const link of links.values()) link.close()
    },
  }
}
