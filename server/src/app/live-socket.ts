// The live socket: every page's messages in, documents, status and frames out to all of them.

import { randomUUID } from 'node:crypto'
import type { WebSocket } from '@fastify/websocket'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import {
  type AppMessage,
  type EngineStatus,
  type FoundNode,
  type PageMessage,
  pageMessageSchema,
} from '@glowchart/shared/messages.ts'
import { monotonicMs } from '../engine/now.ts'
import type { DocumentStore, Done } from './documents.ts'
import type { EngineLink } from './engine-link.ts'

/** A page this many bytes behind gets no frames until it has caught up: a late frame is worth nothing. */
const MOST_BEHIND = 256 * 1024

export interface LiveSocket {
  /** Takes in a page. `client`: the page's own id, which it keeps over a reconnect. */
  join(socket: WebSocket, client: string | undefined): void
  readonly status: EngineStatus | null
}

interface Page {
  readonly socket: WebSocket
  readonly id: string
  frames: boolean
}

export function liveSocket(documents: DocumentStore, engine: EngineLink): LiveSocket {
  const pages = new Set<Page>()
  const server = randomUUID()
  let status: EngineStatus | null = null
  let nodes: FoundNode[] = []

  const send = (page: Page, message: AppMessage): void => page.socket.send(JSON.stringify(message))
  const tellAll = (message: AppMessage): void => {
    const text = JSON.stringify(message)
    for (const page of pages) page.socket.send(text)
  }
  const hello = (page: Page): void => {
    const { rig, show, revision } = documents
    send(page, { type: 'hello', server, you: page.id, rig, show, revision, status })
    if (nodes.length > 0) send(page, { type: 'nodes', nodes })
  }

  /** The engine gets whole documents; several edits in one turn are one load. */
  let loading = false
  const load = (): void => {
    if (loading) return
    loading = true
    setImmediate(() => {
      loading = false
      engine.send({ type: 'load', rig: documents.rig, show: documents.show, revision: documents.revision })
    })
  }
  const wantFrames = (): void => engine.send({ type: 'frames', on: [...pages].some(page => page.frames) })

  documents.onDone(({ revision, by, edit, applied: { says, document, diff } }) => {
    tellAll({ type: 'applied', revision, by, edit, says, document, diff })
    load()
  })
  documents.onReplaced(() => {
    for (const page of pages) hello(page)
    load()
  })
  engine.on(message => {
    switch (message.type) {
      case 'up':
        load()
        return wantFrames()
      case 'down':
        status = null
        return tellAll({ type: 'status', status })
      case 'status':
        status = message.status
        return tellAll(message)
      case 'nodes':
        nodes = message.nodes
        return tellAll(message)
      case 'frame':
        for (const { socket, frames } of pages) {
          if (frames && socket.bufferedAmount < MOST_BEHIND) socket.send(message.frame)
        }
    }
  })

  async function answer(page: Page, seq: number, work: Promise<Problem | Done | undefined>): Promise<void> {
    try {
      const result = await work
      if (result === undefined) send(page, { type: 'done', seq })
      else if ('revision' in result) send(page, { type: 'done', seq, revision: result.revision })
      else send(page, { type: 'refused', seq, problem: result })
    } catch (error) {
      if (!(error instanceof CodedError)) throw error
      send(page, { type: 'refused', seq, problem: error.problem })
    }
  }

  function hear(page: Page, message: PageMessage): void {
    switch (message.type) {
      case 'edit':
        return void answer(page, message.seq, documents.edit(page.id, message.edit, message.args))
      case 'undo':
        return void answer(page, message.seq, documents.undo(page.id, message.revision))
      case 'transport':
        return void answer(
          page,
          message.seq,
          engine.request({ type: 'transport', transport: message.transport }),
        )
      case 'live':
        return void answer(page, message.seq, engine.request({ type: 'live', live: message.live }))
      case 'output':
        return void answer(page, message.seq, engine.request({ type: 'output', output: message.output }))
      case 'discover':
        return void answer(page, message.seq, engine.request({ type: 'discover' }))
      case 'frames':
        page.frames = message.on
        return wantFrames()
      case 'midi':
        return engine.send(message)
      case 'clockPing':
        return send(page, { type: 'clockPong', at: message.at, engine: monotonicMs() })
    }
  }

  return {
    get status() {
      return status
    },
    join(socket, client) {
      const page: Page = {
        socket,
        id: client && /^[\w-]{8,64}$/.test(client) ? client : randomUUID(),
        frames: false,
      }
      pages.add(page)
      socket.on('message', (data, isBinary) => {
        const parsed = pageMessageSchema.safeParse(isBinary ? null : fromJson(String(data)))
        if (parsed.success) return hear(page, parsed.data)
        const { path, message } = parsed.error.issues[0]!
        const where = path.join('.') || 'message'
        send(page, {
          type: 'refused',
          seq: -1,
          problem: problem('message.schema', `${where}: ${message}`, where),
        })
      })
      socket.on('close', () => {
        pages.delete(page)
        if (page.frames) wantFrames()
      })
      socket.on('error', () => socket.terminate())
      hello(page)
    },
  }
}

function fromJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
