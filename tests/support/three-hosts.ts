// Three hosts on one machine: two laptops and a node, namespaces of this run's own, joined by a switch at the node.

import { spawn } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { createInterface } from 'node:readline'
import { ip } from './namespaces.ts'

export interface Hosts {
  readonly first: string
  readonly second: string
  readonly node: string
  remove(): void
}

/** 10.78.0.1 and .2 are the laptops, .3 the node; each laptop's cable is `lan`. */
export function makeThreeHosts(): Hosts {
  const id = randomBytes(3).toString('hex')
  const hosts = { first: `gd1${id}`, second: `gd2${id}`, node: `gd3${id}` }
  const remove = (): void => {
    for (const namespace of Object.values(hosts)) {
      try {
        ip('netns', 'del', namespace)
      } catch {
        // It was never made, or is gone.
      }
    }
  }
  try {
    for (const namespace of Object.values(hosts)) {
      ip('netns', 'add', namespace)
      ip('-n', namespace, 'link', 'set', 'lo', 'up')
    }
    ip('-n', hosts.node, 'link', 'add', 'lan', 'type', 'bridge')
    for (const [i, namespace] of [hosts.first, hosts.second].entries()) {
      const port = `port${i}`
      ip('-n', namespace, 'link', 'add', 'lan', 'type', 'veth', 'peer', 'name', port, 'netns', hosts.node)
      ip('-n', hosts.node, 'link', 'set', port, 'master', 'lan')
      ip('-n', hosts.node, 'link', 'set', port, 'up')
      ip('-n', namespace, 'address', 'add', `10.78.0.${i + 1}/24`, 'broadcast', '10.78.0.255', 'dev', 'lan')
      ip('-n', namespace, 'link', 'set', 'lan', 'up')
    }
    ip('-n', hosts.node, 'address', 'add', '10.78.0.3/24', 'dev', 'lan')
    ip('-n', hosts.node, 'link', 'set', 'lan', 'up')
  } catch (error) {
    remove()
    throw error
  }
  return { ...hosts, remove }
}

/** A program that runs in a namespace and says lines of JSON. */
export interface Hosted {
  readonly pid: number
  say(line: string): void
  /** The next line from now on that fits; rejects when the program ends. */
  next<T>(fits: (line: Record<string, unknown>) => T | undefined | null | false): Promise<T>
  end(): void
}

export function runIn(namespace: string, words: readonly string[]): Hosted {
  const child = spawn('ip', ['netns', 'exec', namespace, process.execPath, ...words], {
    stdio: ['pipe', 'pipe', 'inherit'],
  })
  const listeners = new Set<(line: Record<string, unknown>) => void>()
  const gone = new Promise<never>((_resolve, reject) =>
    child.once('exit', code => reject(new Error(`${words.join(' ')} ended with ${code}`))),
  )
  gone.catch(() => {})
  createInterface({ input: child.stdout }).on('line', line => {
    const value = JSON.parse(line) as Record<string, unknown>
    for (const listener of listeners) listener(value)
  })
  child.stdin.on('error', () => {})
  return {
    pid: child.pid!,
    say: line => void child.stdin.write(`${line}\n`),
    next: fits => {
      let listener: (line: Record<string, unknown>) => void
      const found = new Promise<NonNullable<ReturnType<typeof fits>>>(resolve => {
        listener = line => {
          const got = fits(line)
          if (!got) return
          listeners.delete(listener)
          resolve(got as never)
        }
        listeners.add(listener)
      })
      return Promise.race([found, gone]) as never
    },
    end: () => child.kill('SIGKILL'),
  }
}
