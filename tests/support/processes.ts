// Starts the built server's commands as users do, and collects what they say.

import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const mainPath = fileURLToPath(new URL('../../server/dist/main.js', import.meta.url))

export interface Ended {
  code: number | null
  stdout: string
  stderr: string
}

/** Runs one command to its end. */
export function run(words: string[], env: Record<string, string> = {}): Promise<Ended> {
  return ended(
    spawn(process.execPath, [mainPath, ...words], {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, ...env },
    }),
  )
}

export function ended(child: ChildProcess): Promise<Ended> {
  let stdout = ''
  let stderr = ''
  child.stdout?.on('data', chunk => {
    stdout += chunk
  })
  child.stderr?.on('data', chunk => {
    stderr += chunk
  })
  return new Promise((resolve, reject) => {
    child.once('error', reject)
    child.once('close', code => resolve({ code, stdout, stderr }))
  })
}

/** A folder of its own for one test. */
export function tempFolder(): { path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'glowchart-test-'))
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) }
}

/** Process ids of a server's app and engine (on Linux and macOS). */
export function processesOf(served: Served): { app: number; engine: number } {
  const rows = execFileSync('ps', ['-A', '-o', 'pid=,ppid=,args='], { encoding: 'utf8' }).split('\n')
  const children = rows.filter(row => row.trim().split(/\s+/)[1] === String(served.child.pid))
  const find = (entry: string): number =>
    Number.parseInt(children.find(row => row.includes(`${entry}.js`))!, 10)
  return { app: find('app'), engine: find('engine') }
}

/** The server and everything that it started, in one blow, as when the laptop loses its power (on Linux and macOS). */
export async function killAll({ child }: Served): Promise<void> {
  const gone = once(child, 'close')
  const rows = execFileSync('ps', ['-A', '-o', 'pid=,ppid='], { encoding: 'utf8' }).split('\n')
  const children = rows.flatMap(row => {
    const [pid, parent] = row.trim().split(/\s+/)
    return parent === String(child.pid) ? [Number(pid)] : []
  })
  for (const pid of [child.pid!, ...children]) process.kill(pid, 'SIGKILL')
  await gone
}

export interface Served {
  url: string
  data: string
  child: ChildProcess
  /** Ends the server properly and removes its data folder. */
  close(): Promise<void>
}

/**
 * Starts `serve demo` on a free port with a data folder of its own (or `folder`); resolves when it answers.
 * @param main another built command line
 */
export async function serveDemo(
  words: string[] = [],
  env: Record<string, string> = {},
  folder = tempFolder(),
  main = mainPath,
): Promise<Served> {
  const child = spawn(
    process.execPath,
    [main, 'serve', 'demo', '--port', '0', '--data', folder.path, ...words],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
      // A test asks nobody on the network for nodes; port 9 is the one that answers nothing (RFC 863).
      env: { ...process.env, GLOWCHART_ASK: '127.0.0.1:9', ...env },
    },
  )
  const gone = new Promise<void>(resolve => child.once('close', () => resolve()))
  let said = ''
  const url = await new Promise<string>((resolve, reject) => {
    const hear = (chunk: Buffer): void => {
      said += chunk
      const found = /http:\/\/localhost:\d+/.exec(said)
      if (found) resolve(found[0])
    }
    child.stdout!.on('data', hear)
    child.stderr!.on('data', hear)
    child.once('close', () => reject(new Error(`serve ended before it was up: ${said}`)))
  })
  return {
    url,
    data: folder.path,
    child,
    async close() {
      child.kill('SIGTERM')
      await gone
      folder.remove()
    },
  }
}
