// Run in a network namespace: counts the packets of universes 1 to 4 and reports them ten times a second.

import { createSocket } from 'node:dgram'
import { decodeArtDmx } from '@glowchart/server/output/artnet.ts'
import { decodeE131 } from '@glowchart/server/output/e131.ts'

const counts = [0, 0, 0, 0]
const artnet = createSocket('udp4').bind(6454)
artnet.on('message', bytes => {
  const packet = decodeArtDmx(bytes)
  if (packet) counts[packet.portAddress - 1]!++
})
const sacn = createSocket('udp4').bind(5568)
const join = () => sacn.addMembership('239.255.0.4', '10.77.0.2')
sacn.on('listening', join)
sacn.on('message', bytes => {
  const packet = decodeE131(bytes)
  if (packet?.kind === 'data') counts[packet.universe - 1]!++
})
// The interface is a new one after it was away: "join" asks for the group on it.
process.stdin.on('data', join)
process.stdin.on('end', () => process.exit())
setInterval(() => process.stdout.write(`${JSON.stringify(counts)}\n`), 100)
