// A receiver in a process of its own: takes Art-Net and sACN on one UDP port and notes when each packet came.

import { createSocket, type RemoteInfo, type Socket } from 'node:dgram'
import { setPriority } from 'node:os'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { decodeArtDmx } from '@glowchart/server/output/artnet.ts'
import { decodeE131 } from '@glowchart/server/output/e131.ts'
import { pollReply } from '../output/fake-node.ts'

export interface HeardPacket {
  /** Ms of the machine's monotonic clock, the engine's own. */
  at: number
  protocol: 'artnet' | 'sacn'
  /** Of the wire: the E1.31 universe or the Port-Address. */
  universe: number
  sequence: number
  priority: number
  /** E1.31 Stream_Terminated: its levels count for nothing. */
  ended: boolean
  levels: Uint8Array
}

export type ToReceiver = { do: 'take' } | { do: 'off' } | { do: 'on' }
/** `stall`: the longest that the machine let this process wait beyond its time since the last taking, ms. */
export type FromReceiver = { port: number } | { packets: HeardPacket[]; stall: number } | { is: 'on' | 'off' }

const address = process.argv[2] ?? '127.0.0.1'
let port = Number(process.argv[3] ?? 0)
let packets: HeardPacket[] = []
let socket: Socket | null = null
let stall = 0

// It stands for a machine of its own: the load of this one must not make its times.
try {
  setPriority(0, -15)
} catch {
  // Without the right to it the times hold the machine's load too.
}

const tell = (message: FromReceiver): void => void process.send!(message)

/** Art-Net 4: OpCode of ArtPoll, low byte first. */
const isPoll = (bytes: Buffer): boolean =>
  bytes.length >= 12 && bytes.toString('latin1', 0, 8) === 'Art-Net\0' && bytes.readUInt16LE(8) === 0x2000

const reply = pollReply({
  address,
  shortName: 'Drill node',
  longName: 'The node of the drill',
  net: 0,
  subNet: 0,
  ports: [{ output: 1 }],
})

function hear(bytes: Buffer, from: RemoteInfo): void {
  const at = monotonicMs()
  if (isPoll(bytes)) return socket?.send(reply, from.port, from.address)
  const art = decodeArtDmx(bytes)
  if (art) {
    const { portAddress: universe, sequence, slots: levels } = art
    packets.push({ at, protocol: 'artnet', universe, sequence, priority: 0, ended: false, levels })
    return
  }
  const data = decodeE131(bytes)
  if (data?.kind !== 'data') return
  const { universe, sequence, priority, terminated: ended, slots: levels } = data
  packets.push({ at, protocol: 'sacn', universe, sequence, priority, ended, levels })
}

function listen(then: () => void): void {
  socket = createSocket({ type: 'udp4', recvBufferSize: 4 << 20 })
  socket.on('message', hear)
  socket.bind(port, address, () => {
    port = socket!.address().port
    then()
  })
}

process.on('message', (message: ToReceiver) => {
  if (message.do === 'take') {
    tell({ packets, stall })
    packets = []
    stall = 0
  } else if (message.do === 'off') socket?.close(() => tell({ is: 'off' }))
  else listen(() => tell({ is: 'on' }))
})
/** A machine that is too busy for a bare timer is too busy for frames: this tells the one from the other. */
const TICK = 5
let expected = monotonicMs() + TICK
setInterval(() => {
  const now = monotonicMs()
  stall = Math.max(stall, now - expected)
  expected = now + TICK
}, TICK)
process.on('disconnect', () => process.exit())
// Ctrl-C reaches every process of the terminal; this one goes with who started it.
process.on('SIGINT', () => {})
listen(() => tell({ port }))
