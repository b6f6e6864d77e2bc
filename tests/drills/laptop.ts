// One laptop of a drill: the built product in a network namespace, with a page's hands, killed or ended as a whole.

import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { mainPath, tempFolder } from '../support/processes.ts'
import { type Hosted, runIn } from '../support/three-hosts.ts'

const HANDS = fileURLToPath(new URL('laptop-host.ts', import.meta.url))

export type Seen = Pick<EngineStatus, 'understudy' | 'song' | 'playing' | 'position'> & { outputs: number }

export class Laptop {
  readonly data: string
  #server: ChildProcess | null = null
  #hands: Hosted | null = null
  #folder = tempFolder()
  #asked = 0
  seen: Seen | null = null

  constructor(readonly namespace: string) {
    this.data = this.#folder.path
  }

  async start(): Promise<void> {
    const words = ['netns', 'exec', this.namespace, process.execPath, mainPath]
    const server = spawn('ip', [...words, 'serve', 'demo', '--port', '0', '--data', this.data], {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, GLOWCHART_ASK: '127.0.0.1:9' },
    })
    this.#server = server
    let said = ''
    const url = await new Promise<string>((resolve, reject) => {
      const hear = (chunk: Buffer): void => {
        said += chunk
        const found = /http:\/\/localhost:\d+/.exec(said)
        if (found) resolve(found[0])
      }
      server.stdout!.on('data', hear)
      server.stderr!.on('data', hear)
      server.once('close', () => reject(new Error(`serve ended before it was up: ${said}`)))
    })
    const hands = runIn(this.namespace, ['--import', 'tsx', HANDS, url])
    this.#hands = hands
    await hands.next(line => line.hello)
    void this.#watch(hands)
    await this.until(() => true)
  }

  async #watch(hands: Hosted): Promise<void> {
    try {
      for (;;) this.seen = await hands.next(line => line.status as Seen | undefined)
    } catch {
      // It was killed.
    }
  }

  async ask(message: unknown): Promise<void> {
    const n = ++this.#asked
    const answered = this.#hands!.next(line => line.n === n && (line.answer as { type: string }))
    this.#hands!.say(JSON.stringify({ n, message }))
    const answer = await answered
    if (answer.type !== 'done') throw new Error(JSON.stringify(answer))
  }

  code(): Promise<string> {
    return this.#hands!.next(line => line.code as string | undefined)
  }

  async until(fits: (seen: Seen) => boolean, what = ''): Promise<Seen> {
    const late = monotonicMs() + 20_000
    for (;;) {
      const seen = await this.#hands!.next(line => line.status as Seen | undefined)
      if (fits(seen)) return seen
      if (monotonicMs() > late)
        throw new Error(`${this.namespace} does not come to ${what}: ${JSON.stringify(seen)}`)
    }
  }

  /** The whole tree at once, as a power cut ends it. */
  kill(): void {
    this.#hands?.end()
    const rows = execFileSync('ps', ['-A', '-o', 'pid=,ppid='], { encoding: 'utf8' }).trim().split('\n')
    const pairs = rows.map(row => row.trim().split(/\s+/).map(Number) as [number, number])
    const tree = [this.#server?.pid ?? 0]
    for (const pid of tree) for (const [child, parent] of pairs) if (parent === pid) tree.push(child)
    for (const pid of tree) {
      try {
        if (pid > 0) process.kill(pid, 'SIGKILL')
      } catch {
        // Gone already.
      }
    }
  }

  async end(): Promise<void> {
    this.#hands?.end()
    const server = this.#server
    if (server && server.exitCode === null && server.signalCode === null) {
      server.kill('SIGTERM')
      await once(server, 'close')
    }
    this.#folder.remove()
  }
}
