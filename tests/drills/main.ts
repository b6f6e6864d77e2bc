// Runs the drills, one after the other, and prints a line for each. `-- NAME…` runs only those; `-- --write` writes docs/drills.md.

import { setup as build } from '../support/build.ts'
import { drills, isLong } from './all.ts'
import { lineOf, type Outcome, outcomeOf } from './drill.ts'
import { writePage } from './page.ts'

const words = process.argv.slice(2)
const minutes = words.includes('--minutes') ? Number(words[words.indexOf('--minutes') + 1]) : 2
const write = words.includes('--write')
const short = words.includes('--short')
const names = words.filter((word, i) => !word.startsWith('--') && words[i - 1] !== '--minutes')
const unknown = names.filter(name => !drills.some(drill => drill.name === name))
if (unknown.length > 0 || !(minutes > 0)) {
  process.stderr.write(
    `There is no drill "${unknown[0]}". There are: ${drills.map(({ name }) => name).join(', ')}.\n`,
  )
  process.exit(2)
}

// The product is drilled as it is shipped.
await build()

const outcomes: Outcome[] = []
for (const drill of drills) {
  // The set takes as long as a set: only when it is asked for.
  if (names.length > 0 ? !names.includes(drill.name) : isLong(drill)) continue
  const outcome = await outcomeOf(drill, { minutes, short })
  outcomes.push(outcome)
  console.log(lineOf(outcome))
}
if (write) writePage(outcomes)
const count = (verdict: Outcome['verdict']): number => outcomes.filter(one => one.verdict === verdict).length
console.log(`${count('pass')} passed, ${count('FAIL')} failed, ${count('not run')} not run`)
process.exit(count('FAIL') > 0 ? 1 : 0)
