// Messages between the processes of this machine: whole values over a local socket, each behind its length.

import { createHash } from 'node:crypto'
import { mkdirSync, rmSync } from 'node:fs'
import { connect, createServer, type Server, type Socket } from 'node:net'
import { tmpdir, userInfo } from 'node:os'
import { join } from 'node:path'
import { deserialize, serialize } from 'node:v8'

/** Larger messages than any show are a fault of the sender. */
const MOST_BYTES = 256 * 1024 * 1024
/**
 * Bytes that wait for a reader who reads nothing any more (it hangs, or was stopped): its pipe ends before they fill the
 * memory of an engine. It gets everything anew when it comes back.
 */
const MOST_UNREAD = 64 * 1024 * 1024

export interface Pipe {
  send(message: unknown): void
  /** Bytes that wait for a slow reader; frames are dropped above some of them. */
  readonly waiting: number
  close(): void
}

export interface PipeListener {
  message(message: unknown, pipe: Pipe): void
  closed(pipe: Pipe): void
}

/**
 * The address of the engine that belongs to a data folder. A short path, as sockets have short names; in a folder
 * that only this user may enter, as whoever connects drives the lights.
 */
export function engineAddress(dataFolder: string): string {
  const key = createHash('sha256').update(dataFolder).digest('hex').slice(0, 16)
  if (process.platform === 'win32') return `\\\\.\\pipe\\glowchart-${key}`
  const folder = join(tmpdir(), `glowchart-${userInfo().uid}`)
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  return join(folder, `${key}.sock`)
}

/** Opens the address for clients. Rejects when it is taken by a living server. */
export async function servePipe(
  address: string,
  listener: PipeListener & { opened(pipe: Pipe): void },
): Promise<Server> {
  const server = createServer(socket => {
    listener.opened(pipeOver(socket, listener))
  })
  const listen = (): Promise<void> =>
    new Promise((resolve, reject) => {
      server.once('error', reject)
      server.listen(address, () => {
        server.off('error', reject)
        resolve()
      })
    })
  try {
    await listen()
  } catch (error) {
    // A killed engine leaves its socket file behind; a living one answers.
    if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE' || (await answers(address))) throw error
    rmSync(address, { force: true })
    await listen()
  }
  return server
}

/** Connects to an address; rejects when nobody listens there. */
export function connectPipe(address: string, listener: PipeListener): Promise<Pipe> {
  return new Promise((resolve, reject) => {
    const socket = connect(address)
    socket.once('error', reject)
    socket.once('connect', () => {
      socket.off('error', reject)
      resolve(pipeOver(socket, listener))
    })
  })
}

function answers(address: string): Promise<boolean> {
  return new Promise(resolve => {
    const socket = connect(address)
    socket.once('connect', () => {
      socket.destroy()
      resolve(true)
    })
    socket.once('error', () => resolve(false))
  })
}

function pipeOver(socket: Socket, listener: PipeListener): Pipe {
  const pipe: Pipe = {
    send(message) {
      if (socket.destroyed) return
      if (socket.writableLength > MOST_UNREAD) return void socket.destroy()
      const body = serialize(message)
      const head = Buffer.allocUnsafe(4)
      head.writeUInt32LE(body.length)
      socket.cork()
      socket.write(head)
      socket.write(body)
      socket.uncork()
    },
    get waiting() {
      return socket.writableLength
    },
    close: () => socket.destroy(),
  }
  let chunks: Buffer[] = []
  let have = 0
  socket.on('data', chunk => {
    chunks.push(chunk)
    have += chunk.length
    if (have < 4) return
    // Joined only when a whole message is there, so that a large one is not copied at every chunk.
    let size = firstSize(chunks)
    if (size <= MOST_BYTES && have < 4 + size) return
    let bytes = Buffer.concat(chunks)
    while (bytes.length >= 4) {
      size = bytes.readUInt32LE(0)
      if (size > MOST_BYTES) return void socket.destroy()
      if (bytes.length < 4 + size) break
      const message = received(bytes.subarray(4, 4 + size))
      // Whoever sends what is none loses its pipe; the process that listens goes on.
      if (message === undefined) return void socket.destroy()
      listener.message(message, pipe)
      bytes = bytes.subarray(4 + size)
    }
    chunks = bytes.length > 0 ? [bytes] : []
    have = bytes.length
  })
  // A broken pipe is a closed one: 'close' follows.
  socket.on('error', () => {})
  socket.on('close', () => listener.closed(pipe))
  return pipe
}

/** Undefined for bytes that are no value. */
function received(bytes: Uint8Array): unknown {
  try {
    return deserialize(bytes)
  } catch {
    return undefined
  }
}

function firstSize(chunks: Buffer[]): number {
  if (chunks[0]!.length < 4) chunks.splice(0, chunks.length, Buffer.concat(chunks))
  return chunks[0]!.readUInt32LE(0)
}
