// The cable is pulled while frames go out: in a network of its own, an interface goes down, up, away, and comes back.

import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import type { OutputStatus } from '@glowchart/shared/messages.ts'
import { afterEach, expect } from 'vitest'
import { here, inNamespaces, ip, makeHosts, plugIn, removeHosts, there } from '../support/namespaces.ts'

const SENDER = fileURLToPath(new URL('namespace-sender.ts', import.meta.url))
const RECEIVER = fileURLToPath(new URL('namespace-receiver.ts', import.meta.url))

const children: ChildProcess[] = []
afterEach(async () => {
  for (const child of children.splice(0)) {
    if (child.exitCode !== null) continue
    child.kill()
    await once(child, 'exit')
  }
  removeHosts()
})

/** Starts a script in a namespace; `until` resolves with the first report, from now on, that satisfies `wanted`. */
function start<Report>(namespace: string, script: string) {
  const args = ['netns', 'exec', namespace, process.execPath, '--import', 'tsx', script]
  const child = spawn('ip', args, { stdio: ['pipe', 'pipe', 'inherit'] })
  children.push(child)
  const lines = createInterface({ input: child.stdout })
  return {
    child,
    until: (wanted: (report: Report) => boolean) =>
      new Promise<Report>((resolve, reject) => {
        const gone = () => reject(new Error(`${script} ended`))
        child.once('exit', gone)
        const read = (line: string) => {
          const report = JSON.parse(line) as Report
          if (!wanted(report)) return
          lines.off('line', read)
          child.off('exit', gone)
          resolve(report)
        }
        lines.on('line', read)
      }),
  }
}

inNamespaces(
  'an interface that goes down, or away, is survived: errors counted and said, frames back when it is',
  async () => {
    makeHosts()
    const receiver = start<number[]>(there, RECEIVER)
    const arrived = async (): Promise<void> => {
      const before = await receiver.until(() => true)
      await receiver.until(counts => counts.every((count, i) => count > before[i]! + 10))
    }
    await receiver.until(() => true)
    const sender = start<OutputStatus[]>(here, SENDER)
    const failing = async (): Promise<OutputStatus[]> => {
      const before = await sender.until(() => true)
      return sender.until(routes =>
        routes.every((route, i) => route.errors > before[i]!.errors + 10 && route.says !== ''),
      )
    }
    const well = (routes: OutputStatus[]) => routes.every(route => route.says === '')

    await arrived()
    expect((await sender.until(well)).map(route => route.errors)).toEqual([0, 0, 0, 0])

    ip('-n', here, 'link', 'set', 'va', 'down')
    const down = await failing()
    for (const { says } of down) expect(says).toMatch(/^No way from|adapter is down/)
    ip('-n', here, 'link', 'set', 'va', 'up')
    ip('-n', here, 'route', 'replace', '224.0.0.0/4', 'dev', 'va')
    await arrived()
    await sender.until(well)

    // A USB adapter pulled out and put back: another interface with the same address.
    ip('-n', here, 'link', 'del', 'va')
    const away = await failing()
    expect(away[1]!.says).toMatch(/no network address 10\.77\.0\.1 now/)
    plugIn()
    receiver.child.stdin!.write('join\n')
    await arrived()
    await sender.until(well)

    sender.child.stdin!.end()
    expect(await once(sender.child, 'exit')).toEqual([0, null])
  },
  60_000,
)
