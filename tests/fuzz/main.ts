// The command `npm run fuzz`: `-- [--seconds N] [--seed N] [--write] [AREA]`. Seconds are for all areas together; --write puts
// the counts into docs/fuzz.md.

import { writeFileSync } from 'node:fs'
import { availableParallelism, cpus, platform, release } from 'node:os'
import { parseArgs } from 'node:util'
import { table } from '../bench/figures.ts'
import { areas } from './areas.ts'
import { runAreas } from './run-area.ts'

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    seconds: { type: 'string', default: '60' },
    seed: { type: 'string', default: '1' },
    write: { type: 'boolean', default: false },
  },
})
const wanted = positionals.join(' ')
const names = Object.keys(areas).filter(name => name.includes(wanted))
if (names.length === 0) {
  process.stderr.write(`There is no area "${wanted}". There are: ${Object.keys(areas).join(', ')}.\n`)
  process.exit(2)
}
const ms = (Number(values.seconds) * 1000) / names.length
const rows: string[][] = []
const finds: string[] = []
for (const name of names) {
  try {
    const [figures] = await runAreas([name], { ms, seed: Number(values.seed) })
    const { cases, refused, slowestMs } = figures!
    rows.push([name, String(cases), String(refused), String(cases - refused), String(slowestMs)])
    process.stderr.write(`${name}: ${cases}\n`)
  } catch (error) {
    finds.push((error as Error).message)
    process.stderr.write(`${(error as Error).stack}\n`)
  }
}
const { model } = cpus()[0]!
const day = new Date().toISOString().slice(0, 10)
const page = `# Fuzzing

Made by \`npm run fuzz -- --seconds ${values.seconds} --write\`; do not edit it. What was whole is spoilt by a seed and fed to the product: it is
taken, or refused with a coded error. Anything else is a find: another error, a case that hangs, memory that grows over 512 MiB, a
value that was changed though it was refused, a document that reads back as another. Seeds from ${values.seed} on, one a case;
\`npm run fuzz -- --seed N AREA\` begins at one.

Machine: ${day}, ${model.trim()}, ${availableParallelism()} cores, ${platform()} ${release()}, Node ${process.version}.

${table(['area', 'cases', 'refused', 'taken', 'slowest, ms'], rows)}

Finds: ${finds.length === 0 ? 'none' : finds.join('; ')}. Found and mended before: bytes that are no message on the pipe between our
processes ended the process that listened, and a length over the limit was waited for; now that pipe is cut off.
`
console.log(page)
if (values.write) writeFileSync(new URL('../../docs/fuzz.md', import.meta.url), page)
process.exitCode = finds.length === 0 ? 0 : 1
