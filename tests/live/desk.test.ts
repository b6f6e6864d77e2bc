// The page's desk over a socket that is lost and comes back: what it keeps, and when it must not be closed.

import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { edit } from '@glowchart/web/document/editing.ts'
import { useSession } from '@glowchart/web/document/session.ts'
import { openDesk } from '@glowchart/web/live/desk.ts'
import { expect, test, vi } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'

/** A socket to nowhere: the last one that was opened is `Socket.last`. */
class Socket {
  static readonly OPEN = 1
  static last: Socket
  readonly readyState = Socket.OPEN
  onopen: (() => void) | null = null
  onmessage: ((event: { data: string }) => void) | null = null
  onclose: (() => void) | null = null
  constructor() {
    Socket.last = this
  }
  send(): void {}
  close(): void {}
  hear(message: object): void {
    this.onmessage?.({ data: JSON.stringify(message) })
  }
  greet(song: string): void {
    this.onopen?.()
    const hello = { type: 'hello', role: 'owner', server: 's', you: 'me', revision: 1 }
    this.hear({ ...hello, ...sampleDocuments(), status: statusOf(song) })
  }
}

const statusOf = (song: string) => ({ song, position: 0, at: 0, playing: false, bpm: 120 }) as EngineStatus

vi.stubGlobal('WebSocket', Socket)
vi.stubGlobal('location', new URL('http://localhost:1234/'))
vi.stubGlobal('fetch', () => Promise.reject(new Error('not there')))
const page = new EventTarget()
vi.stubGlobal('window', page)

const asksToStay = (): boolean => !page.dispatchEvent(new Event('beforeunload', { cancelable: true }))

test('a lost connection leaves the page on its song, and a page with unsent edits asks before it is closed', () => {
  const close = openDesk()
  Socket.last.greet('kettle')
  expect(useSession.getState().song).toBe('kettle')
  expect(asksToStay()).toBe(false)
  // What the engine does not have can be written on too.
  useSession.setState({ song: 'written-on' })
  Socket.last.onclose?.()
  void edit('renameSong', { song: 'kettle', title: 'Lid' })
  expect(asksToStay()).toBe(true)
  page.dispatchEvent(new Event('online'))
  Socket.last.greet('kettle')
  expect(useSession.getState().song).toBe('written-on')
  Socket.last.hear({ type: 'status', status: statusOf('another') })
  expect(useSession.getState().song).toBe('another')
  close()
  expect(asksToStay()).toBe(false)
})
