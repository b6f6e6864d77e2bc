// The outside reader of our packets: tshark, a protocol analyser, from a file or live from loopback.

import { type ChildProcess, execFile, spawn } from 'node:child_process'
import { once } from 'node:events'
import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'
import { createInterface } from 'node:readline'
import { promisify } from 'node:util'
import { testIf } from './not-run.ts'

const run = promisify(execFile)

/** The program's path: from the environment, or the first on PATH; null where there is none. */
function findTshark(): string | null {
  const named = process.env.GLOWCHART_TSHARK
  const places = (process.env.PATH ?? '').split(delimiter).map(folder => join(folder, 'tshark'))
  return [...(named ? [named] : []), ...places].find(isRunnable) ?? null
}

function isRunnable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}

const tshark = findTshark()
export const hasTshark = tshark !== null
const HOW = 'install tshark (Debian: apt-get install tshark) or name it in GLOWCHART_TSHARK'

/** A test that needs tshark to read files. */
export const testWithTshark = testIf(tshark !== null, 'packets decoded by tshark', HOW)
/** A test that needs to capture on loopback: root, on Linux. */
export const testLiveCapture = testIf(
  tshark !== null && process.platform === 'linux' && process.getuid?.() === 0,
  'live capture on loopback by tshark',
  `${HOW}; on Linux run the tests as root`,
)

/** E1.31 is found by its content, not by its port, and only when asked for. */
const DISSECT = ['-n', '--enable-heuristic', 'acn', '-o', 'acn.dmx_enable:TRUE']

function output(fields: readonly string[]): string[] {
  return [
    '-T',
    'fields',
    '-E',
    'separator=;',
    '-E',
    'occurrence=f',
    ...fields.flatMap(field => ['-e', field]),
  ]
}

function row<Field extends string>(fields: readonly Field[], line: string): Record<Field, string> {
  const values = line.split(';')
  return Object.fromEntries(fields.map((field, i) => [field, values[i] ?? ''])) as Record<Field, string>
}

/** Decodes a capture file: one row of field values a packet. `more`: further arguments for tshark. */
export async function decodeFile<Field extends string>(
  path: string,
  fields: readonly Field[],
  more: readonly string[] = [],
): Promise<Record<Field, string>[]> {
  const { stdout } = await run(tshark!, [...DISSECT, ...more, '-r', path, ...output(fields)], {
    maxBuffer: 1 << 28,
  })
  return stdout
    .split('\n')
    .filter(line => line !== '')
    .map(line => row(fields, line))
}

export interface LiveCapture<Field extends string> {
  rows: Record<Field, string>[]
  /** Resolves once a row satisfies `wanted`; rows arrive as they are captured. */
  until(wanted: (row: Record<Field, string>) => boolean): Promise<void>
  stop(): Promise<void>
}

/** Captures on loopback. `artnetPort` is decoded as Art-Net. The capture has begun once a packet of yours shows. */
export function captureLoopback<Field extends string>(
  ports: readonly number[],
  artnetPort: number,
  fields: readonly Field[],
): LiveCapture<Field> {
  const filter = ports.map(port => `udp port ${port}`).join(' or ')
  const args = [
    '-i',
    'lo',
    '-l',
    '-f',
    filter,
    '-d',
    `udp.port==${artnetPort},artnet`,
    ...DISSECT,
    ...output(fields),
  ]
  const child: ChildProcess = spawn(tshark!, args, { stdio: ['ignore', 'pipe', 'ignore'] })
  const rows: Record<Field, string>[] = []
  const waiting = new Set<() => void>()
  createInterface({ input: child.stdout! }).on('line', line => {
    rows.push(row(fields, line))
    for (const look of waiting) look()
  })
  return {
    rows,
    until: wanted =>
      new Promise(resolve => {
        const look = () => {
          if (!rows.some(wanted)) return
          waiting.delete(look)
          resolve()
        }
        waiting.add(look)
        look()
      }),
    async stop() {
      const gone = once(child, 'exit')
      child.kill('SIGINT')
      await gone
    },
  }
}
