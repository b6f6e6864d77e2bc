// The page's live socket and time: a slow greeting is waited for, a socket that has fallen silent is not.

import { type Connection, openConnection } from '@glowchart/web/connection.ts'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'

/** The browser's socket, with the network in the test's hands. */
class Socket {
  static readonly OPEN = 1
  static readonly made: Socket[] = []
  readyState = 0
  onopen: (() => void) | null = null
  onmessage: ((event: { data: string }) => void) | null = null
  onclose: (() => void) | null = null
  constructor() {
    Socket.made.push(this)
  }
  open() {
    this.readyState = 1
    this.onopen?.()
  }
  say(message: object) {
    this.onmessage?.({ data: JSON.stringify(message) })
  }
  close() {}
}

let connection: Connection
beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval', 'performance'] })
  vi.stubGlobal('WebSocket', Socket)
  vi.stubGlobal('window', new EventTarget())
  Socket.made.length = 0
  connection = openConnection('ws://show', { opened() {}, lost() {}, message() {}, frame() {} })
})
afterEach(() => {
  connection.close()
  vi.unstubAllGlobals()
  vi.useRealTimers()
})

it('waits for a show that is long on its way, and as long again for what comes after it', () => {
  const [socket] = Socket.made
  socket!.open()
  vi.advanceTimersByTime(9000)
  expect(Socket.made).toHaveLength(1)
  socket!.say({ type: 'hello' })
  vi.advanceTimersByTime(17_000)
  expect(Socket.made).toHaveLength(1)
  vi.advanceTimersByTime(3000)
  expect(Socket.made).toHaveLength(2)
})

it('begins again soon where nobody answers, and after 3 s of silence once it is greeted', () => {
  vi.advanceTimersByTime(4000)
  expect(Socket.made).toHaveLength(2)
  Socket.made[1]!.open()
  Socket.made[1]!.say({ type: 'hello' })
  vi.advanceTimersByTime(2500)
  expect(Socket.made).toHaveLength(2)
  vi.advanceTimersByTime(1500)
  expect(Socket.made).toHaveLength(3)
})
