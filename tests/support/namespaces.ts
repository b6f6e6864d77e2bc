// Two hosts on one machine: network namespaces of this test run's own, joined by a wire that can be pulled.

import { execFileSync } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { testIf } from './not-run.ts'

const id = randomBytes(3).toString('hex')

/** This run's two hosts; a test that uses them makes and removes them. */
export const [here, there] = [`gca${id}`, `gcb${id}`]
export const ip = (...args: string[]) => execFileSync('ip', args, { stdio: 'pipe' })

function canMakeNamespaces(): boolean {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return false
  try {
    ip('netns', 'add', here)
    ip('netns', 'del', here)
    return true
  } catch {
    return false
  }
}

/** A wire between the two: 10.77.0.1 here, 10.77.0.2 there. */
export function plugIn(): void {
  ip('-n', here, 'link', 'add', 'va', 'type', 'veth', 'peer', 'name', 'vb', 'netns', there)
  for (const [namespace, link, address] of [
    [here, 'va', '10.77.0.1'],
    [there, 'vb', '10.77.0.2'],
  ] as const) {
    ip('-n', namespace, 'address', 'add', `${address}/24`, 'dev', link)
    ip('-n', namespace, 'link', 'set', link, 'up')
  }
  ip('-n', here, 'route', 'add', '224.0.0.0/4', 'dev', 'va')
}

export function makeHosts(): void {
  ip('netns', 'add', here)
  ip('netns', 'add', there)
  plugIn()
}

export function removeHosts(): void {
  for (const namespace of [here, there]) {
    try {
      ip('netns', 'del', namespace)
    } catch {
      // It was never made, or is gone.
    }
  }
}

const HOW = 'on Linux run the tests as root, with iproute2 installed'

/** What this machine lacks to make namespaces; null when it can. */
export const lacksNamespaces = (): string | null => (canMakeNamespaces() ? null : HOW)

/** `test` where the machine can make namespaces. */
export const inNamespaces = testIf(
  canMakeNamespaces(),
  'sending through an interface that goes down and comes back',
  HOW,
)
