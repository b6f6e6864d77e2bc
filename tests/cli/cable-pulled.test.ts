// The cable is pulled while `play` runs: the command goes on, counts what failed, and the frames return with the link.

import { spawn } from 'node:child_process'
import { setTimeout as sleep } from 'node:timers/promises'
import { afterEach, expect } from 'vitest'
import { here, inNamespaces, ip, makeHosts, removeHosts } from '../support/namespaces.ts'
import { ended, mainPath } from '../support/processes.ts'

afterEach(removeHosts)

inNamespaces(
  'play survives its interface going down and up: no exit, errors counted, frames return',
  async () => {
    makeHosts()
    const words = [
      'netns',
      'exec',
      here,
      process.execPath,
      mainPath,
      'play',
      'demo',
      '--seconds',
      '6',
      '--json',
    ]
    const child = spawn('ip', [...words, '--artnet', '10.77.0.2', '--sacn', '10.77.0.2'], {
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    const end = ended(child)
    // Any moment in the run will do; what is asserted are the counts of the whole run.
    await sleep(2500)
    ip('-n', here, 'link', 'set', 'va', 'down')
    await sleep(1000)
    ip('-n', here, 'link', 'set', 'va', 'up')
    const { code, stdout, stderr } = await end
    expect([code, stderr]).toEqual([0, ''])
    const report = JSON.parse(stdout)
    expect(report.frames).toBe(240)
    for (const { packets, errors, says } of report.outputs) {
      expect(errors).toBeGreaterThan(10)
      // The last packet left, after all those that did not.
      expect(says).toBe('')
      expect(packets).toBeGreaterThan(100)
      expect(packets + errors).toBe(240)
    }
  },
)
