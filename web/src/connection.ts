// The live socket: one owner of the WebSocket, its reconnecting, its watchdog, and the answers still waited for.

import type { Problem } from '@glowchart/shared/errors.ts'
import type { AppMessage, PageMessage } from '@glowchart/shared/messages.ts'

export interface Listener {
  opened(): void
  lost(): void
  message(message: AppMessage): void
  /** @param at page time in ms when it came in (`performance.now`) */
  frame(bytes: Uint8Array, at: number): void
}

type Ask = Extract<PageMessage, { seq: number }>
/** A message that is answered, before it has its number. */
export type Question = Ask extends infer A ? (A extends Ask ? Omit<A, 'seq'> : never) : never

export type Answer = { ok: true; revision?: number } | { ok: false; problem: Problem | null }

export interface Connection {
  /** Sends and forgets; false when nothing is connected. */
  tell(message: PageMessage): boolean
  /** Sends and waits for `done` or `refused`; `problem: null` means that it never got through. */
  ask(question: Question): Promise<Answer>
  /** Drops this socket and connects afresh, for a state that no longer fits. */
  restart(): void
  close(): void
}

const FIRST_WAIT = 250
const LONGEST_WAIT = 4000
/** The app tells the status ten times a second; this much silence means that the socket is dead. */
const SILENCE = 3000
/**
 * The first message is the whole show: on a crowded Wi-Fi it is long on its way, and who gave up before it came would
 * only begin again. Once it is known how long that takes, what is as large is given twice as long.
 */
const GREETING = 20_000

export function openConnection(url: string, listener: Listener): Connection {
  let socket: WebSocket | null = null
  let closed = false
  let wait = FIRST_WAIT
  let retry: ReturnType<typeof setTimeout> | undefined
  let heard = 0
  let openedAt = 0
  let patience = SILENCE
  let seq = 0
  const waiting = new Map<number, (answer: Answer) => void>()

  const connect = () => {
    clearTimeout(retry)
    const next = new WebSocket(url)
    next.binaryType = 'arraybuffer'
    socket = next
    heard = performance.now()
    patience = SILENCE
    next.onopen = () => {
      openedAt = heard = performance.now()
      patience = GREETING
      listener.opened()
    }
    next.onmessage = event => {
      // Not when it opens: a server that is full closes it at once.
      wait = FIRST_WAIT
      heard = performance.now()
      if (patience === GREETING) patience = Math.max(SILENCE, 2 * (heard - openedAt))
      if (typeof event.data === 'string') receive(JSON.parse(event.data) as AppMessage)
      else listener.frame(new Uint8Array(event.data as ArrayBuffer), heard)
    }
    next.onclose = () => drop(next)
  }

  const drop = (gone: WebSocket) => {
    if (socket !== gone) return
    gone.onopen = gone.onmessage = gone.onclose = null
    gone.close()
    socket = null
    for (const settle of waiting.values()) settle({ ok: false, problem: null })
    waiting.clear()
    listener.lost()
    if (closed) return
    retry = setTimeout(connect, wait)
    wait = Math.min(LONGEST_WAIT, wait * 2)
  }

  const receive = (message: AppMessage) => {
    if (message.type === 'done' || message.type === 'refused') {
      const settle = waiting.get(message.seq)
      waiting.delete(message.seq)
      if (message.type === 'refused') settle?.({ ok: false, problem: message.problem })
      else settle?.({ ok: true, ...(message.revision === undefined ? {} : { revision: message.revision }) })
    }
    listener.message(message)
  }

  const tell = (message: PageMessage): boolean => {
    if (socket?.readyState !== WebSocket.OPEN) return false
    socket.send(JSON.stringify(message))
    return true
  }

  const atOnce = () => {
    if (!socket && !closed) connect()
  }
  const watchdog = setInterval(() => {
    if (socket && performance.now() - heard > patience) drop(socket)
  }, 500)
  window.addEventListener('online', atOnce)

  connect()
  return {
    tell,
    ask: question =>
      new Promise(resolve => {
        seq += 1
        if (tell({ ...question, seq } as PageMessage)) waiting.set(seq, resolve)
        else resolve({ ok: false, problem: null })
      }),
    restart: () => {
      if (socket) drop(socket)
    },
    close: () => {
      closed = true
      clearTimeout(retry)
      clearInterval(watchdog)
      window.removeEventListener('online', atOnce)
      if (socket) drop(socket)
    },
  }
}
