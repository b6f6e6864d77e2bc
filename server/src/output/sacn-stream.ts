// The sACN packets of each frame: data, then sync, then now and then universe discovery; terminated when a stream ends.

import type { Output, Route } from '@glowchart/shared/show/output.ts'
import {
  DISCOVERY_UNIVERSE,
  dataPacket,
  discoveryPackets,
  multicastGroup,
  patchData,
  patchSync,
  syncPacket,
  terminated,
} from './e131.ts'
import { ABSENT, Lane } from './lane.ts'
import { CONTROL, type Destination, type Emit, RESTART_JUMP, type Stream, streamKey } from './packet.ts'

/** E1.31-2018 Appendix A: E131_UNIVERSE_DISCOVERY_INTERVAL, ms. */
const DISCOVERY_INTERVAL = 10_000
/** Packets that end a stream (E1.31-2018 6.2.6). */
const TERMINATE = 3
/** E1.31-2018 6.2.3. */
const HIGHEST_PRIORITY = 200

interface Sender {
  route: number
  key: string
  wireUniverse: number
  lane: Lane
  packet: Uint8Array
  /** The sequence number of the next packet. */
  sequence: number
  to: Destination
  group: Group
}

/** All that goes to one receiver, or to multicast through one interface: shares sync and universe discovery. */
interface Group {
  key: string
  sync: { packet: Uint8Array; sequence: number; to: Destination } | null
  /** Whether data went out in this frame. */
  sent: boolean
  /** Whether data ever went out: until then nothing is announced. */
  began: boolean
  discovery: Destination
  discoveredAt: number
}

/** @param lift added to the priorities that the routes name */
export function sacnStream(
  output: Output,
  cid: Uint8Array,
  known: Readonly<Record<string, number>>,
  lift: number,
): Stream {
  const groups = new Map<string, Group>()
  const address = output.sync === false ? 0 : output.sync
  const begin = (key: string) => (known[key] === undefined ? 0 : (known[key] + RESTART_JUMP) & 255)

  const groupOf = (host: string, port: number, via: string | undefined): Group => {
    const key = streamKey('sacn-sync', host, port, address, via)
    const multicast = host === 'multicast'
    const to = (universe: number) => ({
      host: multicast ? multicastGroup(universe) : host,
      port,
      via,
      multicast,
    })
    const group = groups.get(key) ?? {
      key,
      sync:
        address === 0 ? null : { packet: syncPacket(cid, address), sequence: begin(key), to: to(address) },
      sent: false,
      began: false,
      discovery: to(DISCOVERY_UNIVERSE),
      discoveredAt: Number.NEGATIVE_INFINITY,
    }
    groups.set(key, group)
    return group
  }

  const senders = output.routes.flatMap((route: Route, index): Sender[] => {
    if (route.to.protocol !== 'sacn') return []
    const { host, port, wireUniverse, priority, preview, mode } = route.to
    const multicast = host === 'multicast'
    const key = streamKey('sacn', host, port, wireUniverse, route.via)
    const header = {
      cid,
      sourceName: output.sourceName,
      universe: wireUniverse,
      priority: Math.min(HIGHEST_PRIORITY, priority + lift),
      preview,
      sync: address,
    }
    return [
      {
        route: index,
        key,
        wireUniverse,
        lane: new Lane(route.universe, mode === 'every'),
        packet: dataPacket(header),
        sequence: begin(key),
        to: { host: multicast ? multicastGroup(wireUniverse) : host, port, via: route.via, multicast },
        group: groupOf(host, port, route.via),
      },
    ]
  })

  /** Uses up a sequence number. */
  const number = (of: { sequence: number }) => {
    const sequence = of.sequence
    of.sequence = (sequence + 1) & 255
    return sequence
  }

  const terminate = (sender: Sender, emit: Emit) => {
    for (let i = 0; i < TERMINATE; i++) {
      // Each its own: one that the system holds back would leave as whatever the packet has become.
      const packet = terminated(sender.packet, number(sender))
      emit(packet, sender.to, sender.route)
    }
    sender.lane.live = false
  }

  const discover = (group: Group, emit: Emit) => {
    const live = senders
      .filter(sender => sender.group === group && sender.lane.live)
      .map(sender => sender.wireUniverse)
    // From memory of E1.31-2018 8.5: the list holds the universes of sync packets beside those of data.
    if (address !== 0 && live.length > 0) live.push(address)
    for (const page of discoveryPackets(cid, output.sourceName, live)) emit(page, group.discovery, CONTROL)
  }

  return {
    frame(universes, levels, now, emit) {
      for (const sender of senders) {
        const offset = sender.lane.due(universes, levels, now)
        if (offset >= 0) {
          patchData(sender.packet, levels, offset, number(sender))
          emit(sender.packet, sender.to, sender.route)
          sender.group.sent = true
        } else if (offset === ABSENT && sender.lane.live) terminate(sender, emit)
      }
      for (const group of groups.values()) {
        if (group.sent && group.sync) {
          patchSync(group.sync.packet, number(group.sync))
          emit(group.sync.packet, group.sync.to, CONTROL)
        }
        group.began ||= group.sent
        group.sent = false
        if (!group.began || now - group.discoveredAt < DISCOVERY_INTERVAL) continue
        group.discoveredAt = now
        discover(group, emit)
      }
    },
    end(kept, emit) {
      for (const sender of senders) if (sender.lane.live && !kept.has(sender.key)) terminate(sender, emit)
    },
    sequences(into) {
      for (const { key, sequence } of senders) into[key] = (sequence - 1) & 255
      for (const { key, sync } of groups.values()) if (sync) into[key] = (sync.sequence - 1) & 255
    },
  }
}
