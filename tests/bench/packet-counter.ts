// A process that only counts packets on loopback, by their length; answers with its counts when it is asked.

import { createSocket } from 'node:dgram'

const counts: Record<number, number> = {}
// Asked of the system, which gives what it allows: the bench is about the sender.
const socket = createSocket({ type: 'udp4', recvBufferSize: 4 << 20 })
socket.on('message', bytes => {
  counts[bytes.length] = (counts[bytes.length] ?? 0) + 1
})
socket.bind(0, '127.0.0.1', () => process.send!({ port: socket.address().port }))
process.on('message', () => process.send!({ counts }))
process.on('disconnect', () => process.exit())
