// Runs the benches one after the other, each in a process of its own: `npm run bench`. `-- --write` makes docs/performance.md
// of it; `-- NAME` runs one, and with `--write` puts it in its section's place there. Ctrl-C ends it, and writes nothing.

import { spawn } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { availableParallelism, cpus, loadavg, platform, release } from 'node:os'
import { fileURLToPath } from 'node:url'
import { setup as build } from '../support/build.ts'
import { ended } from '../support/processes.ts'
import { buildBefore } from './before.ts'

const benches = {
  intervals: new URL('./intervals.ts', import.meta.url),
  'engine-intervals': new URL('./engine-intervals.ts', import.meta.url),
  'render-frame': new URL('./render-frame.ts', import.meta.url),
  packets: new URL('./packets.ts', import.meta.url),
  'to-the-wire': new URL('./to-the-wire.ts', import.meta.url),
  edits: new URL('./edits.ts', import.meta.url),
  'start-up': new URL('./start-up.ts', import.meta.url),
  'page-load': new URL('./page-load.ts', import.meta.url),
  'at-rest': new URL('./at-rest.ts', import.meta.url),
  chart: new URL('./chart.ts', import.meta.url),
  'light-roll': new URL('./light-roll.ts', import.meta.url),
  'song-advice': new URL('./song-advice.ts', import.meta.url),
  'click-and-light': new URL('./click-and-light.ts', import.meta.url),
  viewers: new URL('./viewers.ts', import.meta.url),
  'midi-clock': new URL('./midi-clock.ts', import.meta.url),
}
const root = fileURLToPath(new URL('../..', import.meta.url))
const load = (): string => loadavg()[0]!.toFixed(1)

/** A young generation large enough that no collection falls into a count of bytes. */
const nodeArguments = ['--import', 'tsx', '--expose-gc', '--max-semi-space-size=64']

let stop: (() => void) | null = null
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.once(signal, () => {
    process.stderr.write('Stopped; nothing was written.\n')
    stop?.()
    process.exit(130)
  })
}

/** One bench's section. One that fails says so in its place, and the others are run all the same. */
async function bench(name: string, file: URL): Promise<string> {
  const [before, began] = [load(), performance.now()]
  // A group of its own, so that what it has started can be ended with it.
  const child = spawn(process.execPath, [...nodeArguments, fileURLToPath(file)], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit'],
    detached: true,
  })
  stop = () => process.kill(-child.pid!, 'SIGTERM')
  const { code, stdout } = await ended(child)
  stop = null
  const took = ((performance.now() - began) / 1000).toFixed(0)
  if (code !== 0) {
    process.exitCode = 1
    return `## ${name}\n\nNot measured: the bench ended with code ${code}. Alone: \`npm run bench -- ${name}\`.\n`
  }
  console.log(stdout)
  const foot = `Load average before and after: ${before}, ${load()}. Took ${took} s. Alone: \`npm run bench -- ${name}\`.`
  return `${stdout.trim()}\n\n${foot}\n`
}

const machine = (): string => {
  const { model } = cpus()[0]!
  const day = new Date().toISOString().slice(0, 10)
  return `${day}, ${model.trim()}, ${availableParallelism()} cores, ${platform()} ${release()}, Node ${process.version}`
}

const page = new URL('../../docs/performance.md', import.meta.url)

/** The page with a section in the place of the one with its heading, or at its end. */
function withSection(text: string, section: string): string {
  const [heading] = section.split('\n', 1)
  const parts = text.trimEnd().split(/\n(?=## )/)
  const at = parts.findIndex(part => part.split('\n', 1)[0] === heading)
  parts.splice(at < 0 ? parts.length : at, at < 0 ? 0 : 1, section)
  return `${parts.map(part => part.trim()).join('\n\n')}\n`
}

const words = process.argv.slice(2)
const write = words.includes('--write')
const only = words.find(word => word !== '--write')
const chosen = Object.entries(benches).filter(([name]) => only === undefined || name === only)
if (chosen.length === 0) {
  process.stderr.write(`There is no bench "${only}". There are: ${Object.keys(benches).join(', ')}.\n`)
  process.exit(2)
}
const atFirst = load()
// The product is measured as it is shipped, and as it was.
process.stderr.write('Building the product, and the one from before…\n')
await build()
await buildBefore()

const began = performance.now()
const sections: string[] = []
for (const [i, [name, file]] of chosen.entries()) {
  const gone = ((performance.now() - began) / 60_000).toFixed(1)
  const left = chosen.slice(i + 1).map(([other]) => other)
  process.stderr.write(
    `${i + 1} of ${chosen.length}, after ${gone} min: ${name}; then ${left.join(', ') || 'nothing more'}\n`,
  )
  sections.push(await bench(name, file))
}
if (write && only === undefined) {
  const head = `# Measured performance

Made by \`npm run bench -- --write\`, which writes this page anew (or a section of it: \`-- NAME --write\`); do not edit it. Every figure
stands beside a baseline measured in the same run, and the ratio to it is what to compare: absolute times belong to the machine. A
load average above 0 before a bench means that others used the machine too, which lengthens the worst times first (the bench
before counts in it too, a little). p50, p95, p99: half, 95 %, 99 % of the values are not above it.

Three things were found worst for who uses it, and made better: the chart of a long song after an edit, the page at rest, and the
bytes of the page. Their sections say "improved", and have before and after from this run: the product from before is built from
the same sources with the old modules in their places (\`tests/bench/before.ts\`).

Machine: ${machine()}. Load average at the start and at the end: ${atFirst}, ${load()}.

`
  writeFileSync(page, head + sections.join('\n'))
} else if (write) {
  const section = `${sections[0]!.trim()} Measured on its own: ${machine()}.\n`
  writeFileSync(page, withSection(readFileSync(page, 'utf8'), section))
}
