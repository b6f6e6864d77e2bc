// A page's live socket without the page: sends messages, awaits answers, keeps what comes.

import type { AppMessage, EngineStatus, PageMessage } from '@glowchart/shared/messages.ts'
import WebSocket from 'ws'

type Numbered = Extract<PageMessage, { seq: number }>
type WithoutSeq<M> = M extends unknown ? Omit<M, 'seq'> : never

export interface PageSocket {
  readonly hello: Extract<AppMessage, { type: 'hello' }>
  readonly messages: AppMessage[]
  readonly frames: Uint8Array[]
  /** Resolves with `done` or `refused`. */
  ask(message: WithoutSeq<Numbered>): Promise<Extract<AppMessage, { type: 'done' | 'refused' }>>
  send(message: PageMessage): void
  /** Resolves with the close code when the app has ended it. */
  readonly ended: Promise<number>
  /** Resolves with the next status that fits. */
  status(fits: (status: EngineStatus) => boolean): Promise<EngineStatus>
  close(): void
}

/** @param cookie of a guest who has joined; without it the laptop's own page */
export async function openPage(url: string, client = 'test-page-1', cookie?: string): Promise<PageSocket> {
  const socket = new WebSocket(`${url.replace('http', 'ws')}/live?client=${client}`, {
    origin: url,
    ...(cookie !== undefined && { headers: { cookie } }),
  })
  socket.binaryType = 'nodebuffer'
  const messages: AppMessage[] = []
  const frames: Uint8Array[] = []
  const listeners = new Set<(message: AppMessage) => void>()
  socket.on('message', (data, isBinary) => {
    if (isBinary) return void frames.push(data as Buffer)
    const message = JSON.parse(String(data)) as AppMessage
    messages.push(message)
    for (const listener of listeners) listener(message)
  })
  const ended = new Promise<number>(resolve => socket.once('close', resolve))
  const opened = new Promise<void>((resolve, reject) => {
    socket.once('open', resolve)
    socket.once('error', reject)
  })
  const next = <M extends AppMessage>(fits: (message: AppMessage) => message is M): Promise<M> =>
    new Promise(resolve => {
      const listener = (message: AppMessage): void => {
        if (!fits(message)) return
        listeners.delete(listener)
        resolve(message)
      }
      listeners.add(listener)
    })
  const greeted = next(message => message.type === 'hello')
  await opened
  const hello = await greeted
  let seq = 0
  return {
    hello,
    messages,
    frames,
    ask(message) {
      const number = ++seq
      const answer = next(
        (m): m is Extract<AppMessage, { type: 'done' | 'refused' }> =>
          (m.type === 'done' || m.type === 'refused') && m.seq === number,
      )
      socket.send(JSON.stringify({ ...message, seq: number }))
      return answer
    },
    ended,
    send: message => socket.send(JSON.stringify(message)),
    status: async fits => {
      const found = await next(
        (m): m is Extract<AppMessage, { type: 'status' }> =>
          m.type === 'status' && m.status !== null && fits(m.status),
      )
      return found.status!
    },
    close: () => socket.close(),
  }
}
