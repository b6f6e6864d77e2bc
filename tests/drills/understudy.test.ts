// The drill of the second laptop as briefly as it means something, with what the node got read by tshark.

import { join } from 'node:path'
import { expect } from 'vitest'
import { inNamespaces } from '../support/namespaces.ts'
import { tempFolder } from '../support/processes.ts'
import { decodeFile, hasTshark } from '../support/tshark.ts'
import { lineOf, outcomeOf } from './drill.ts'
import { drillUnderstudy, firstKilled } from './understudy.ts'

inNamespaces(
  'the first laptop is killed in mid-song: the understudy gives right light within a second',
  async () => {
    const folder = tempFolder()
    const capture = join(folder.path, 'node.pcapng')
    const drill = {
      ...firstKilled,
      run: () => drillUnderstudy({ how: 'killed', andBack: false, ...(hasTshark && { capture }) }),
    }
    const outcome = await outcomeOf(drill, { minutes: 0, short: true })
    console.log(lineOf(outcome))
    expect(outcome.verdict, lineOf(outcome)).toBe('pass')
    if (hasTshark) {
      const address = ['ip.src', 'artnet.address.command', 'artnet.address.netswitch_write'] as const
      const told = await decodeFile(capture, address, ['-Y', 'artnet.address'])
      expect(new Set(told.map(row => row['ip.src']))).toEqual(new Set(['10.78.0.2']))
      expect(new Set(told.map(row => Number(row['artnet.address.command'])))).toEqual(new Set([1]))
      const data = await decodeFile(
        capture,
        ['ip.src', 'acn.dmx.priority', 'acn.cid'],
        ['-Y', 'acn.dmx.priority'],
      )
      const sources = new Set(data.map(row => `${row['ip.src']} ${row['acn.dmx.priority']}`))
      expect(sources).toEqual(new Set(['10.78.0.1 100', '10.78.0.2 101']))
      expect(new Set(data.map(row => row['acn.cid'])).size).toBe(2)
    }
    folder.remove()
  },
  90_000,
)
