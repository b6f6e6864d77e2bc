// What leaves the machine: a packet's destination, and the shape of whatever takes packets (a socket, a capture file).

/** Where packets go. One object a destination, made once, so that a frame allocates none. */
export interface Destination {
  /** IPv4 address in dotted form; a multicast group where `multicast` is set. */
  readonly host: string
  readonly port: number
  /** Local IPv4 address to send from; undefined: the system's choice. */
  readonly via: string | undefined
  readonly multicast: boolean
}

/**
 * Takes one packet. `bytes` is patched in place for the next frame: who needs it longer copies it. `route` is the index
 * into the output's routes, or CONTROL for a packet that belongs to no single route (sync, universe discovery).
 */
export type Emit = (bytes: Uint8Array, to: Destination, route: number) => void

export const CONTROL = -1

/** The packets of one protocol, without sockets: the same code feeds the network and a capture file. */
export interface Stream {
  /** Emits what one rendered frame sends. `levels`: 512 bytes a universe in the order of `universes`; `now` in ms. */
  frame(universes: readonly number[], levels: Uint8Array, now: number, emit: Emit): void
  /** Ends the streams, except those whose key is in `kept`. */
  end(kept: ReadonlySet<string>, emit: Emit): void
  /** Adds the last sequence number sent of every stream, by its key. */
  sequences(into: Record<string, number>): void
}

/** The stable name of one stream of packets: what a sequence number belongs to. */
export function streamKey(
  protocol: string,
  host: string,
  port: number,
  universe: number,
  via?: string,
): string {
  return [protocol, host, port, universe, ...(via === undefined ? [] : [via])].join('|')
}

/**
 * How far a restarted sender jumps ahead of the last sequence number it knows of. E1.31-2018 6.7.2: a receiver drops a
 * packet when −20 < int8(new − last) ≤ 0. Up to a second of packets (44) may have left after the number was noted, so
 * the first new one lands 20…64 ahead of the last one sent: never in the window, never more than half way round.
 */
export const RESTART_JUMP = 64
