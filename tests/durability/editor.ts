// A page that edits at random over the real live socket, and remembers what it was promised.

import type { AppMessage } from '@glowchart/shared/messages.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import WebSocket from 'ws'
import { randomEdit } from '../show/random-edits.ts'

export interface Editor {
  /** All that the server may have: the last that was acknowledged, and those asked for after it. */
  readonly possible: readonly Documents[]
  /** After each edit that was sent, whatever became of it. */
  readonly asked: readonly Documents[]
  readonly acknowledged: number
  /** Sends an edit. Resolves true once it is acknowledged, false when the server is gone first. */
  edit(): Promise<boolean>
  /** Resolves once the server has closed the socket, or died. */
  readonly gone: Promise<void>
  close(): void
}

/** Rejects when nobody answers at the address. */
export async function openEditor(url: string, next: () => number): Promise<Editor> {
  const socket = new WebSocket(`${url.replace('http', 'ws')}/live?client=durability`, { origin: url })
  const waiting = new Map<number, (message: AppMessage | null) => void>()
  let greet: (hello: Documents) => void
  const greeted = new Promise<Documents>(resolve => {
    greet = resolve
  })
  socket.on('message', (data, isBinary) => {
    if (isBinary) return
    const message = JSON.parse(String(data)) as AppMessage
    if (message.type === 'hello') greet({ rig: message.rig, show: message.show })
    if (message.type !== 'done' && message.type !== 'refused') return
    waiting.get(message.seq)?.(message)
    waiting.delete(message.seq)
  })
  // What is wrong comes before the close.
  socket.on('error', () => {})
  const gone = new Promise<void>(resolve => socket.once('close', () => resolve())).then(() => {
    for (const resolve of waiting.values()) resolve(null)
    waiting.clear()
  })
  const hello = await Promise.race([greeted, gone])
  if (!hello) throw new Error(`nobody answers at ${url}`)
  let possible = [hello]
  const asked: Documents[] = []
  let acknowledged = 0
  let seq = 0

  /** One that is possible, and changes something. */
  function chosen(before: Documents): { name: string; args: unknown; after: Documents } {
    for (;;) {
      const { name, args } = randomEdit(before, next, Math.floor(next() * 1e9))
      try {
        const { diff, next: after } = applyEdit(before, name, args)
        if (diff.length > 0) return { name, args, after }
      } catch {
        // Not possible in these documents.
      }
    }
  }

  return {
    get possible() {
      return possible
    },
    asked,
    get acknowledged() {
      return acknowledged
    },
    gone,
    async edit() {
      const { name, args, after } = chosen(possible.at(-1)!)
      const number = ++seq
      const answered = new Promise<AppMessage | null>(resolve => waiting.set(number, resolve))
      if (socket.readyState !== WebSocket.OPEN) return false
      possible.push(after)
      asked.push(after)
      socket.send(JSON.stringify({ type: 'edit', seq: number, edit: name, args }))
      const answer = await answered
      if (answer?.type === 'refused') {
        throw new Error(`${name} was refused: ${answer.problem.message} (${JSON.stringify(args)})`)
      }
      if (!answer) return false
      acknowledged++
      possible = possible.slice(possible.indexOf(after))
      return true
    },
    close: () => socket.terminate(),
  }
}
