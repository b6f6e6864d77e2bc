// Runs the benches, each in a process of its own, and writes what they say to docs/performance.md. `-- NAME` runs one and only
// prints it; `-- NAME --write` puts it in the place of its section there.

import { spawn } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { availableParallelism, cpus, loadavg, platform, release } from 'node:os'
import { fileURLToPath } from 'node:url'
import { setup as build } from '../support/build.ts'
import { ended } from '../support/processes.ts'

const benches = {
  intervals: new URL('./intervals.ts', import.meta.url),
  'engine-intervals': new URL('./engine-intervals.ts', import.meta.url),
  'render-frame': new URL('./render-frame.ts', import.meta.url),
  packets: new URL('./packets.ts', import.meta.url),
  'midi-clock': new URL('./midi-clock.ts', import.meta.url),
  edits: new URL('./edits.ts', import.meta.url),
  'click-and-light': new URL('./click-and-light.ts', import.meta.url),
  chart: new URL('./chart.ts', import.meta.url),
  viewers: new URL('./viewers.ts', import.meta.url),
}
const root = fileURLToPath(new URL('../..', import.meta.url))
const load = (): string => loadavg()[0]!.toFixed(1)

/** A young generation large enough that no collection falls into a count of bytes. */
const nodeArguments = ['--import', 'tsx', '--expose-gc', '--max-semi-space-size=64']

async function bench(name: string, file: URL): Promise<string> {
  const before = load()
  process.stderr.write(`${name}…\n`)
  const child = spawn(process.execPath, [...nodeArguments, fileURLToPath(file)], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const { code, stdout } = await ended(child)
  if (code !== 0) throw new Error(`The bench ${name} ended with ${code}.`)
  console.log(stdout)
  return `${stdout.trim()}\n\nLoad average before and after: ${before}, ${load()}. Alone: \`npm run bench -- ${name}\`.\n`
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

const [only, write] = process.argv.slice(2)
const chosen = Object.entries(benches).filter(([name]) => only === undefined || name === only)
if (chosen.length === 0) {
  process.stderr.write(`There is no bench "${only}". There are: ${Object.keys(benches).join(', ')}.\n`)
  process.exit(2)
}
// The product is measured as it is shipped.
await build()

const sections: string[] = []
for (const [name, file] of chosen) sections.push(await bench(name, file))
if (only === undefined) {
  const head = `# Measured performance

Made by \`npm run bench\`, which writes this page anew (or a section of it: \`-- NAME --write\`); do not edit it. Every figure stands beside a baseline measured in the same
run, and the ratio to it is what to compare: absolute times belong to the machine. A load average above 0 before a bench
means that others used the machine too, which lengthens the worst times first (the bench before counts in it too, a little).

Machine: ${machine()}.

`
  writeFileSync(page, head + sections.join('\n'))
} else if (write === '--write') {
  const section = `${sections[0]!.trim()} Measured on its own: ${machine()}.\n`
  writeFileSync(page, withSection(readFileSync(page, 'utf8'), section))
}
