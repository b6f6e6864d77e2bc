// A UDP socket on loopback that keeps what arrives, and lets a test wait for it.

import { createSocket, type RemoteInfo, type Socket } from 'node:dgram'
import { once } from 'node:events'

export interface Inbox {
  port: number
  socket: Socket
  packets: Buffer[]
  from: RemoteInfo[]
  /** Resolves with the packets once there are `count`; the test's own time limit ends a wait in vain. */
  until(count: number): Promise<Buffer[]>
  close(): Promise<void>
}

export async function openInbox(): Promise<Inbox> {
  const socket = createSocket('udp4')
  socket.bind(0, '127.0.0.1')
  await once(socket, 'listening')
  const packets: Buffer[] = []
  const from: RemoteInfo[] = []
  socket.on('message', (bytes, sender) => {
    packets.push(bytes)
    from.push(sender)
    socket.emit('kept')
  })
  return {
    port: socket.address().port,
    socket,
    packets,
    from,
    async until(count) {
      while (packets.length < count) await once(socket, 'kept')
      return packets
    },
    async close() {
      socket.close()
      await once(socket, 'close')
    },
  }
}
