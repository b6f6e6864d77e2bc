// The app's (and the supervisor's) end of the engine's pipe: connects, comes back by itself, answers requests.

import { type Problem, problem } from '@glowchart/shared/errors.ts'
import type { FromEngine, ToEngine } from '@glowchart/shared/messages.ts'
import type { EngineLink } from '../app/engine-link.ts'
import { connectPipe, type Pipe } from './pipe.ts'

const RETRY_MS = 50
const ANSWER_MS = 5000

/** An engine link over a local pipe; `close` ends it. */
export function pipeLink(address: string): EngineLink & { close(): void } {
  const listeners = new Set<Parameters<EngineLink['on']>[0]>()
  const waiting = new Map<number, (problem: Problem | undefined) => void>()
  let pipe: Pipe | null = null
  let closed = false
  let retry: NodeJS.Timeout | undefined
  let nextId = 1

  const tell = (message: FromEngine | { type: 'up' } | { type: 'down' }): void => {
    for (const listener of listeners) listener(message)
  }
  const down = (): void => {
    pipe = null
    for (const answer of waiting.values()) answer(engineDown)
    waiting.clear()
    tell({ type: 'down' })
    if (!closed) retry = setTimeout(connect, RETRY_MS)
  }
  const connect = (): void => {
    connectPipe(address, {
      message(message) {
        const from = message as FromEngine
        if (from.type === 'answer') {
          waiting.get(from.id)?.(from.problem)
          waiting.delete(from.id)
        } else tell(from)
      },
      closed: down,
    }).then(
      opened => {
        if (closed) return opened.close()
        pipe = opened
        tell({ type: 'up' })
      },
      () => {
        if (!closed) retry = setTimeout(connect, RETRY_MS)
      },
    )
  }
  connect()

  return {
    send: message => pipe?.send(message),
    request(message) {
      if (!pipe) return Promise.resolve(engineDown)
      const id = nextId++
      return new Promise(resolve => {
        const timer = setTimeout(() => {
          waiting.delete(id)
          resolve(engineDown)
        }, ANSWER_MS)
        waiting.set(id, problem => {
          clearTimeout(timer)
          resolve(problem)
        })
        pipe!.send({ ...message, id } as ToEngine)
      })
    },
    on(listener) {
      listeners.add(listener)
      if (pipe) listener({ type: 'up' })
      return () => listeners.delete(listener)
    },
    close() {
      closed = true
      clearTimeout(retry)
      pipe?.close()
    },
  }
}

const engineDown = problem('engine.down', 'the engine does not answer', 'engine')
