// The command `npm run soak`: the product lives for hours, watched. `-- [--minutes N] [--short] [--write]`; Ctrl-C ends it
// with the figures so far; --write puts them into docs/soak.md.

import { writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { lineOf, outcomeOf } from '../drills/drill.ts'
import { sectionOf } from '../drills/page.ts'
import { setup as build } from '../support/build.ts'
import { soakUntil } from './soak.ts'

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '60' },
    short: { type: 'boolean', default: false },
    write: { type: 'boolean', default: false },
  },
})
const minutes = Number(values.minutes)
if (!(minutes > 0)) {
  process.stderr.write(`--minutes ${values.minutes}: minutes are a number above 0.\n`)
  process.exit(2)
}

const head = `# Soak

The built processes of \`serve\` live for as long as one likes, over real UDP to a receiver in a process of its own, while songs
play. In every round pages come that take each frame and go, the draft is edited ten times a second, phones join by the PIN and
are sent away, the output is switched to another priority and back (its sockets are opened anew), a sequencer's MIDI clock starts and stops, another band's show is
opened and this one again. \`npm run soak -- --minutes 60\` does it (a line a minute; Ctrl-C ends it with the figures so far);
\`-- --write\` writes this page; do not edit it. Memory is judged by the slope of the least of each half minute, handles by what
is left at the end of a round. A load average above the number of cores means that other work shared the machine.

What the first ones found (2026-11-25, 2 cores, load average 20 to 57): resident memory grew though the heaps did not. V8's space
for what was just made rose from 1 to 33.6 MB in a thread of the engine, as a busy machine delays its sweeping, and stayed. The
supervisor now gives an engine a bound, 4.2 MB a thread. Sixteen minutes of this soak without it: 106 MB/h, 127 MB resident at the
end, and a FAIL; with it: 17.5 MB/h, 105 to 109 MB from the fifth minute on. Two engines side by side, pages that take frames and
edits five times a second: 94 MB in the first two minutes and 141 MB in the last of fourteen without, 52 MB of them the first
thread's, which used 10; with it 101 MB in the third minute, 108 MB in the last. Nothing is kept: swept by force every 30 s, the
frame thread's heap stood at 9.6 to 9.7 MB and its array buffers and the like at 3.9 to 4.2 MB from the third minute to the sixth.

`

// The product lives as it is shipped.
await build()

const stopped = new Promise<void>(resolve => process.once('SIGINT', () => resolve()))
const outcome = await outcomeOf(
  soakUntil(stopped, line => console.log(line)),
  { minutes, short: values.short },
)
console.log(lineOf(outcome).replaceAll('; ', '\n  '))
if (values.write)
  writeFileSync(new URL('../../docs/soak.md', import.meta.url), `${head}${sectionOf(outcome)}\n`)
process.exit(outcome.verdict === 'FAIL' ? 1 : 0)
