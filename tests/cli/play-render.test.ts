// `play` and `render` as a user runs them: counts, bytes on loopback, equal frames, usage errors.

import { spawn } from 'node:child_process'
import { createSocket } from 'node:dgram'
import { once } from 'node:events'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { routesOf } from '@glowchart/server/cli/arguments.ts'
import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { decodeArtDmx } from '@glowchart/server/output/artnet.ts'
import { decodeE131 } from '@glowchart/server/output/e131.ts'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ended, mainPath, run, tempFolder } from '../support/processes.ts'

let folder: ReturnType<typeof tempFolder>
beforeAll(() => {
  folder = tempFolder()
})
afterAll(() => folder.remove())

/** Counts and keeps the packets that arrive at a free port of loopback. */
async function receiver() {
  const socket = createSocket('udp4')
  socket.bind(0, '127.0.0.1')
  await once(socket, 'listening')
  const packets: Buffer[] = []
  socket.on('message', bytes => packets.push(bytes))
  return { port: socket.address().port, packets, close: () => socket.close() }
}

interface Frame {
  frame: number
  ticks: number
  levels: Record<string, number[]>
}
const framesOf = (path: string): Frame[] =>
  readFileSync(path, 'utf8')
    .trim()
    .split('\n')
    .map(line => JSON.parse(line) as Frame)

describe('glowchart play', () => {
  it('sends every frame of five seconds as Art-Net and sACN, the same bytes that render writes', async () => {
    const [artnet, sacn] = [await receiver(), await receiver()]
    const out = join(folder.path, 'start.ndjson')
    const [played, rendered] = await Promise.all([
      run([
        'play',
        'demo',
        '--seconds',
        '5',
        '--artnet',
        `127.0.0.1:${artnet.port}`,
        '--sacn',
        `127.0.0.1:${sacn.port}`,
        '--json',
      ]),
      run(['render', 'demo', '--bars', '6', '--out', out]),
    ])
    artnet.close()
    sacn.close()
    expect(played.stderr).toBe('')
    expect(rendered.code).toBe(0)
    const report = JSON.parse(played.stdout)
    expect(Math.abs(report.frames - 200)).toBeLessThanOrEqual(1)
    expect(report.sendErrors).toBe(0)
    for (const output of report.outputs) expect(Math.abs(output.packets - 200)).toBeLessThanOrEqual(1)

    const frames = framesOf(out)
    const dmx = artnet.packets.map(bytes => decodeArtDmx(bytes)!)
    expect(Math.abs(dmx.length - 200)).toBeLessThanOrEqual(1)
    // On a busy machine a late frame is skipped, never sent late: what came must be the rendered frames in order.
    let next = 0
    for (const { slots } of dmx) {
      const bytes = JSON.stringify([...slots])
      while (next < frames.length && JSON.stringify(frames[next]!.levels['1']) !== bytes) next++
      expect(next).toBeLessThan(frames.length)
      next++
    }
    expect(next - dmx.length).toBeLessThanOrEqual(report.framesSkipped)
    const data = sacn.packets
      .map(bytes => decodeE131(bytes))
      .filter(packet => packet?.kind === 'data' && !packet.terminated)
    expect(Math.abs(data.length - 200)).toBeLessThanOrEqual(1)
  })

  it('follows MIDI bytes from a file', async () => {
    const file = join(folder.path, 'clock.jsonl')
    const pulses = Array.from({ length: 24 * 6 }, (_, i) => ({
      ms: 200 + (i * 60_000) / 96 / 24,
      bytes: [0xf8],
    }))
    const lines = [{ ms: 190, bytes: [0xfa] }, ...pulses].map(line => JSON.stringify(line))
    writeFileSync(file, `${lines.join('\n')}\n`)
    const { stdout } = await run(['play', 'demo', '--seconds', '3', '--midi-bytes', file, '--json'])
    const report = JSON.parse(stdout)
    expect(report.clock.source).toBe('midi')
    expect(report.clock.lock).toBe('locked')
    expect(Math.abs(report.clock.bpm - 96)).toBeLessThan(1)
    // The last frame's time, from the first pulse on, at 96 BPM.
    const elapsed = (report.frames + report.framesSkipped - 1) / 40 - 0.2
    expect(Math.abs(report.position.ticks - elapsed * 1.6 * 960)).toBeLessThan(10)
  })
})

it.skipIf(process.platform === 'win32')('ends its streams when it is told to end', async () => {
  const sacn = await receiver()
  const words = [mainPath, 'play', 'demo', '--sacn', `127.0.0.1:${sacn.port}`]
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'inherit'] })
  const end = ended(child)
  while (sacn.packets.length < 3) await new Promise(resolve => setTimeout(resolve, 10))
  child.kill('SIGTERM')
  expect((await end).code).toBe(0)
  const ends = () =>
    sacn.packets.filter(bytes => {
      const packet = decodeE131(bytes)
      return packet?.kind === 'data' && packet.universe === 1 && packet.terminated
    })
  while (ends().length < 3) await new Promise(resolve => setImmediate(resolve))
  sacn.close()
})

it('an Art-Net universe that there is none of is refused, and not sent as another', () => {
  const bundle = demoBundle()
  const [box] = Object.values(bundle.rig.boxes)
  box!.universe = 32_769
  const kit = bundle.show.tonight
  expect(() => routesOf(bundle, kit, { artnet: '127.0.0.1' })).toThrow(
    expect.objectContaining({ code: 'output.portAddress' }),
  )
  expect(routesOf(bundle, kit, { sacn: '127.0.0.1' }).length).toBeGreaterThan(0)
})

describe('glowchart render', () => {
  it('gives byte-identical files twice, and identical frames from a later bar on', async () => {
    const [a, b, later] = ['a.ndjson', 'b.ndjson', 'later.ndjson'].map(name => join(folder.path, name)) as [
      string,
      string,
      string,
    ]
    await Promise.all([run(['render', 'demo', '--out', a]), run(['render', 'demo', '--out', b])])
    await run(['render', 'demo', '--from', '9', '--bars', '4', '--out', later])
    expect(readFileSync(a).equals(readFileSync(b))).toBe(true)
    const whole = new Map(framesOf(a).map(frame => [frame.frame, JSON.stringify(frame)]))
    const part = framesOf(later)
    expect(part.length).toBeGreaterThan(100)
    for (const frame of part) expect(JSON.stringify(frame)).toBe(whole.get(frame.frame))
  })

  it('says in one line on stderr what is wrong with the words, and exits with 2', async () => {
    for (const words of [
      ['render', 'demo'],
      ['play'],
      ['dance'],
      ['play', 'demo', '--seconds', 'long'],
      ['play', 'demo', '--artnet', 'node.example'],
    ]) {
      const { code, stdout, stderr } = await run(words)
      expect([words, code, stdout]).toEqual([words, 2, ''])
      expect(stderr).toMatch(/Usage:/)
    }
  })

  it('refuses an unknown song, kit or bar with a code and exit 1', async () => {
    for (const [words, code] of [
      [['play', 'demo', '--song', 'No Such Tune'], 'song.unknown'],
      [['render', 'demo', '--kit', 'No Such Kit', '--out', join(folder.path, 'x.csv')], 'kit.unknown'],
      [['render', 'demo', '--from', '9999', '--out', join(folder.path, 'x.csv')], 'song.bar'],
      [['render', 'demo', '--out', join(folder.path, 'none', 'x.csv')], 'file.unwritable'],
    ] as const) {
      const ended = await run([...words])
      expect(ended.code).toBe(1)
      expect(ended.stderr).toContain(code)
    }
  })
})
