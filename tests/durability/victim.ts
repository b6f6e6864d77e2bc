// A real server to be killed: the built one on a folder of its own, its processes found by that folder, started again as a user would.

import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { mainPath, tempFolder } from '../support/processes.ts'

export type Target = 'app' | 'engine' | 'supervisor' | 'tree'

export interface Victim {
  readonly data: string
  /** Of the app that runs, or of the one that will when its supervisor has started it again. */
  readonly url: string
  /** What it wrote to its terminal last, and which of its processes live, for a find. */
  state(): string
  /** `kill -9`. For the tree: all processes of it, whoever their parent is by now. */
  kill(target: Target): void
  /** Starts `serve` on the folder, as after any of these; resolves once it says where the page is. */
  start(): Promise<void>
  /** Ends everything, and removes the folder. */
  remove(): void
}

/** The processes that have the folder among their words, oldest first. */
function processesOn(data: string): { pid: number; entry: Target }[] {
  const rows = execFileSync('ps', ['-A', '-o', 'pid=,args='], { encoding: 'utf8' }).split('\n')
  const entries: [string, Target][] = [
    ['main.js', 'supervisor'],
    ['app.js', 'app'],
    ['engine.js', 'engine'],
  ]
  return rows
    .filter(row => row.split(' ').includes(data))
    .flatMap(row => {
      const entry = entries.find(([name]) => row.includes(`/${name} `))
      return entry ? [{ pid: Number.parseInt(row, 10), entry: entry[1] }] : []
    })
    .sort((a, b) => a.pid - b.pid)
}

export async function startVictim(): Promise<Victim> {
  const folder = tempFolder()
  const data = folder.path
  let url = ''
  let said = ''
  let child: ChildProcess | undefined

  function kill(target: Target): void {
    const all = processesOn(data)
    // Of two engines the older one plays, the other waits.
    const chosen = target === 'tree' ? all : all.filter(({ entry }) => entry === target).slice(0, 1)
    for (const { pid } of chosen) {
      try {
        process.kill(pid, 'SIGKILL')
      } catch {
        // It was gone by itself, as an engine without its supervisor may be.
      }
    }
  }

  async function start(): Promise<void> {
    const words = [mainPath, 'serve', 'demo', '--port', '0', '--data', data]
    // Nobody on the network is asked for nodes; port 9 answers nothing (RFC 863).
    const env = { ...process.env, GLOWCHART_ASK: '127.0.0.1:9' }
    const started = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'pipe'], env })
    child = started
    let heard = ''
    url = await new Promise<string>((resolve, reject) => {
      const hear = (chunk: Buffer): void => {
        heard += chunk
        said = `${said}${chunk}`.slice(-2000)
        const found = /http:\/\/localhost:\d+/.exec(heard)
        if (found) resolve(found[0])
      }
      started.stdout.on('data', hear)
      started.stderr.on('data', hear)
      started.once('exit', () => reject(new Error(`serve ended before it was up: ${heard}`)))
    })
  }

  await start()
  return {
    data,
    get url() {
      return url
    },
    state: () => `${said}\n${processesOn(data).map(({ pid, entry }) => `${entry} ${pid}`)}`,
    kill,
    start,
    remove() {
      kill('tree')
      child?.stdout?.destroy()
      child?.stderr?.destroy()
      folder.remove()
    },
  }
}
