// Run in a network namespace: a node with one sACN and one Art-Net port, both merging; tells what it put out when asked.

import { createHash } from 'node:crypto'
import { createSocket } from 'node:dgram'
import { constants, setPriority } from 'node:os'
import { createInterface } from 'node:readline'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { artnetPort, sacnPort } from './merging-node.ts'

/** What stood at the port from `at` on (ms, monotonic), by the start of its SHA-256. */
const LOOK = 5

interface Put {
  at: number
  levels: string
}

// The measure must not wait for what it measures.
try {
  setPriority(0, constants.priority.PRIORITY_HIGHEST)
} catch {
  // Without the right to it, the figures tell how long it had to wait itself.
}

const [universe, portAddress] = process.argv.slice(2).map(Number) as [number, number]
const sacn = sacnPort(universe)
const artnet = artnetPort(portAddress)
const out: { sacn: Put[]; artnet: Put[] } = { sacn: [], artnet: [] }
let stall = 0
let looked = monotonicMs()
setInterval(() => {
  const now = monotonicMs()
  stall = Math.max(stall, now - looked - LOOK)
  looked = now
}, LOOK)
const put = (port: 'sacn' | 'artnet', levels: Uint8Array | null, at: number): void => {
  if (levels) out[port].push({ at, levels: createHash('sha256').update(levels).digest('hex').slice(0, 16) })
}
createSocket('udp4')
  .on('message', bytes => {
    const at = monotonicMs()
    put('sacn', sacn.take(bytes, at), at)
  })
  .bind(5568)
createSocket('udp4')
  .on('message', (bytes, from) => {
    const at = monotonicMs()
    put('artnet', artnet.take(bytes, from.address, at), at)
  })
  .bind(6454, () => process.stdout.write('{"ready":true}\n'))
createInterface({ input: process.stdin })
  .on('line', () => {
    process.stdout.write(`${JSON.stringify({ ...out, stall })}\n`)
    stall = 0
    out.sacn = []
    out.artnet = []
  })
  .on('close', () => process.exit())
