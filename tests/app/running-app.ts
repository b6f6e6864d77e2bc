// An app with a data folder and a page folder of its own, on a free port of loopback, its engine in the test's hands.

import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { EngineLink } from '@glowchart/server/app/engine-link.ts'
import type { Guard } from '@glowchart/server/app/guard.ts'
import { startApp } from '@glowchart/server/app/start.ts'
import type { Problem } from '@glowchart/shared/errors.ts'
import type { AppMessage, FromEngine, ToEngine } from '@glowchart/shared/messages.ts'
import type { Bundle } from '@glowchart/shared/show/bundle.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import WebSocket from 'ws'
import { sampleDocuments } from '../show/samples.ts'
import { textOnDisk } from '../support/on-disk.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { tempFolder } from '../support/processes.ts'

/** The engine's end of the link: what comes over the pipe is tested with the engine. */
class Engine implements EngineLink {
  readonly sent: ToEngine[] = []
  readonly asked: unknown[] = []
  answer: Problem | undefined
  private readonly listeners = new Set<Parameters<EngineLink['on']>[0]>()
  send(message: ToEngine) {
    this.sent.push(message)
  }
  async request(message: unknown) {
    this.asked.push(message)
    return this.answer
  }
  on(listener: Parameters<EngineLink['on']>[0]) {
    this.listeners.add(listener)
    return () => this.listeners.delete(listener)
  }
  say(message: FromEngine | { type: 'up' } | { type: 'down' }) {
    for (const listener of this.listeners) listener(message)
  }
  close() {}
}

export interface RunningApp {
  readonly url: string
  /** The data folder and the page folder. */
  readonly data: string
  readonly page: string
  readonly engine: Engine
  open(client?: string): Promise<PageSocket>
  /** A socket without a page's manners. */
  openRaw(): Promise<{ socket: WebSocket; messages: AppMessage[]; frames(): number }>
  /** The sample show as it is on the disk. */
  onDisk(): Show
  /** The title of its first song there. */
  titleOnDisk(): string
  /** Ends the app and starts it on the same folders, at the same port. @param between done while none runs */
  restart(between?: () => void): Promise<void>
  close(): Promise<void>
}

/** Starts an app that opens the sample show. @param given in the place of the app's own */
export async function runApp(
  given: { guard?: Guard; now?: () => number; first?: () => Promise<Bundle> } = {},
): Promise<RunningApp> {
  const [data, page] = [tempFolder(), tempFolder()]
  writeFileSync(join(page.path, 'index.html'), '<title>the page</title>')
  const engine = new Engine()
  const pages: PageSocket[] = []
  const start = (port = 0) =>
    startApp({
      dataFolder: data.path,
      port,
      pageFolder: page.path,
      engine,
      first: async () => sampleDocuments(),
      ...given,
    })
  const onDisk = (): Show => JSON.parse(textOnDisk(data.path, 'show', 'moth-cabinet'))
  let app = await start()
  return {
    get url() {
      return app.url
    },
    data: data.path,
    page: page.path,
    engine,
    async open(client) {
      const socket = await openPage(app.url, client)
      pages.push(socket)
      return socket
    },
    async openRaw() {
      const socket = new WebSocket(`${app.url.replace('http', 'ws')}/live`)
      const messages: AppMessage[] = []
      let frames = 0
      socket.on('message', (bytes, isBinary) => {
        if (isBinary) frames++
        else messages.push(JSON.parse(String(bytes)))
      })
      await until(() => messages.some(m => m.type === 'hello'))
      return { socket, messages, frames: () => frames }
    },
    onDisk,
    titleOnDisk: () => onDisk().songs.kettle!.title,
    async restart(between) {
      const { port } = new URL(app.url)
      await app.close()
      between?.()
      app = await start(Number(port))
    },
    async close() {
      for (const socket of pages) socket.close()
      await app.close()
      data.remove()
      page.remove()
    },
  }
}

/** Resolves once `done` is true, looking after everything that comes in; the test's own time is the limit. */
export async function until(done: () => boolean): Promise<void> {
  while (!done()) await new Promise(resolve => setImmediate(resolve))
}

/** The edit that gives the sample's song another title. */
export const rename = (title: string) => ({
  type: 'edit' as const,
  edit: 'renameSong',
  args: { song: 'kettle', title },
})
