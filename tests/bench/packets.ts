// Bench: processor time of a packet through the outputs, against bare node:dgram with a prepared packet; packets lost.

import { createSocket } from 'node:dgram'
import { once } from 'node:events'
import { setTimeout as pause, setImmediate as turn } from 'node:timers/promises'
import { openOutputs } from '@glowchart/server/output/outputs.ts'
import { outputSchema } from '@glowchart/shared/show/output.ts'
import { figure, ratio, table } from './figures.ts'
import { openReceiver, type Receiver } from './receiver.ts'

/** Packets between two pauses: a frame of the widest rig, and as many frames of the others as make the same. */
const BURST = 256
const PAUSE_MS = 25
const BURSTS = 40
const WARM_UP = 10

/** Octets of a full ArtDmx (18 and 512) and of a full E1.31 data packet (126 and 512). */
const length = { artnet: 530, sacn: 638 } as const
type Protocol = keyof typeof length

/** What sends: a frame of `universes` packets at a time. */
interface Sender {
  frame(): void
  /** Packets the system has taken. */
  done(): number
  close(): Promise<void> | void
}

async function product(protocol: Protocol, universes: number, port: number): Promise<Sender> {
  const numbers = Array.from({ length: universes }, (_, i) => i + 1)
  const output = outputSchema.parse({
    routes: numbers.map(universe => ({
      universe,
      to: {
        protocol,
        host: '127.0.0.1',
        port,
        mode: 'every',
        ...(protocol === 'artnet' ? { portAddress: universe } : { wireUniverse: universe }),
      },
    })),
  })
  const outputs = await openOutputs(output, { cid: new Uint8Array(16).fill(7) })
  const levels = new Uint8Array(universes * 512)
  let frames = 0
  return {
    frame() {
      levels.fill(frames++ & 255)
      outputs.send(numbers, levels, performance.now())
    },
    done: () => outputs.status().reduce((sum, { packets }) => sum + packets, 0),
    close: () => outputs.close(),
  }
}

async function bare(protocol: Protocol, universes: number, port: number): Promise<Sender> {
  const socket = createSocket('udp4')
  socket.bind(0, '127.0.0.1')
  await once(socket, 'listening')
  socket.setSendBufferSize(1 << 20)
  const packet = new Uint8Array(length[protocol])
  let done = 0
  const count = (error: Error | null): void => {
    if (!error) done++
  }
  return {
    frame() {
      for (let i = 0; i < universes; i++) socket.send(packet, port, '127.0.0.1', count)
    },
    done: () => done,
    close: () => void socket.close(),
  }
}

/** Sends `bursts` of packets, one turn of the event loop a frame as in the engine's loop; returns the packets handed over. */
async function send(sender: Sender, universes: number, bursts: number): Promise<number> {
  for (let burst = 0; burst < bursts; burst++) {
    for (let frame = 0; frame < BURST / universes; frame++) {
      sender.frame()
      await turn()
    }
    await pause(PAUSE_MS)
  }
  return bursts * BURST
}

interface Cost {
  /** µs of processor time of this process, a packet. */
  cpu: number
  handed: number
  refused: number
  lost: number
}

async function measure(sender: Sender, protocol: Protocol, universes: number, to: Receiver): Promise<Cost> {
  const before = await to.came(length[protocol], Number.POSITIVE_INFINITY)
  const warm = await send(sender, universes, WARM_UP)
  const start = process.cpuUsage()
  const handed = warm + (await send(sender, universes, BURSTS))
  const { user, system } = process.cpuUsage(start)
  const taken = sender.done()
  const came = (await to.came(length[protocol], before + taken)) - before
  await sender.close()
  return { cpu: (user + system) / (handed - warm), handed, refused: handed - taken, lost: taken - came }
}

const receiver = await openReceiver()
const rows: string[][] = []
for (const protocol of ['artnet', 'sacn'] as const) {
  for (const universes of [1, 16, 64, 256]) {
    const plain = await measure(await bare(protocol, universes, receiver.port), protocol, universes, receiver)
    const ours = await measure(
      await product(protocol, universes, receiver.port),
      protocol,
      universes,
      receiver,
    )
    rows.push([
      `${protocol === 'artnet' ? 'Art-Net' : 'sACN'}, ${universes} universe${universes > 1 ? 's' : ''}`,
      figure(ours.cpu),
      figure(plain.cpu),
      ratio(ours.cpu, plain.cpu),
      String(ours.handed),
      String(ours.refused),
      String(ours.lost),
      String(plain.lost),
    ])
  }
}
receiver.close()
console.log(`## Sending a packet

Processor time (user and system) of the sending process for each packet, through \`openOutputs\` to 127.0.0.1, where another
process counts what comes. Every row sends ${BURST} packets each ${PAUSE_MS} ms or a little more, as frames of as many universes as it
says, one turn of the event loop a frame. Baseline: \`node:dgram\` sending one prepared packet of the same length, with a
callback, in the same pattern.

${table(['output', 'µs a packet', 'node:dgram, µs', 'ratio', 'packets', 'refused', 'lost', 'node:dgram, lost'], rows)}`)
