// The command `npm run durability`: rounds of kill -9 and of pulled plugs, from a seed, and what became of the edits.
// `-- [--rounds N] [--seed N] [--only kill|power] [--write]`; --write puts the figures into docs/durability.md.

import { writeFileSync } from 'node:fs'
import { availableParallelism, cpus, loadavg, platform, release } from 'node:os'
import { parseArgs } from 'node:util'
import { setup as build } from '../support/build.ts'
import { tempFolder } from '../support/processes.ts'
import { type KillFigures, killRounds } from './kill-rounds.ts'
import { powerRound } from './power-round.ts'

const { values } = parseArgs({
  options: {
    rounds: { type: 'string', default: '20' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string' },
    write: { type: 'boolean', default: false },
  },
})
/** So many real servers are killed at once, each in rounds of its own. */
const SERVERS = 2
const seeds = Array.from({ length: Number(values.rounds) }, (_, i) => Number(values.seed) + i)
const { model } = cpus()[0]!
const day = new Date().toISOString().slice(0, 10)
const machine = `${day}, ${model.trim()}, ${availableParallelism()} cores, ${platform()} ${release()}, Node ${process.version}`

const load = (): string => loadavg()[0]!.toFixed(1)
const told = (round: number): void => {
  if (round % 10 === 0) process.stderr.write(`${round} of ${seeds.length}\n`)
}
/** Runs a kind of rounds, and adds how long they took and beside what. */
async function timed(rounds: () => Promise<string[]>): Promise<string> {
  const before = load()
  const began = performance.now()
  const lines = await rounds()
  const seconds = (performance.now() - began) / 1000
  const each = `${seconds.toFixed(0)} s, ${(seconds / seeds.length).toFixed(2)} s a round; load average before and after: ${before}, ${load()}`
  return [...lines, each].map(line => `- ${line}`).join('\n')
}

async function kill(): Promise<string[]> {
  let done = 0
  // Most of a round is waiting for a process to be up again.
  const each = await Promise.all(
    Array.from({ length: SERVERS }, (_, n) =>
      killRounds(
        seeds.filter((_, i) => i % SERVERS === n),
        { told: () => told(++done) },
      ),
    ),
  )
  const sum = (of: (figures: KillFigures) => number): number => each.reduce((all, one) => all + of(one), 0)
  const killed = (target: keyof KillFigures['rounds']): number => sum(({ rounds }) => rounds[target])
  const acknowledged = sum(figures => figures.acknowledged)
  const beyond = sum(figures => figures.beyond)
  const versions = sum(figures => figures.versions)
  const restored = sum(figures => figures.restored)
  return [
    `killed: the app ${killed('app')} times, the engine ${killed('engine')}, the supervisor ${killed('supervisor')}, all of them ${killed('tree')}`,
    `${acknowledged} edits acknowledged, **0 lost**; ${beyond} more were there that had not been acknowledged yet`,
    `${versions} files of earlier versions read, **0 unreadable**; ${restored} damaged show files had the newest one opened in their place`,
  ]
}

async function power(): Promise<string[]> {
  const folder = tempFolder()
  const sum = { acknowledged: 0, beyond: 0, cuts: 0, versions: 0 }
  try {
    for (const [i, seed] of seeds.entries()) {
      const round = await powerRound(seed, folder.path).catch(cause => {
        throw new Error(`seed ${seed}: ${(cause as Error).message}`, { cause })
      })
      for (const key of Object.keys(sum) as (keyof typeof sum)[]) sum[key] += round[key]
      told(i + 1)
    }
  } finally {
    folder.remove()
  }
  return [
    `${sum.cuts} cuts, each at a random operation of the disk, in edits, in the journal's new beginning, in a recovery`,
    `${sum.acknowledged} edits acknowledged, **0 lost**; ${sum.beyond} more were there that had not been acknowledged yet`,
    `${sum.versions} files of earlier versions read, **0 unreadable**; in each round that has one, it took the place of a damaged file`,
  ]
}

const sections: string[] = []
if (values.only !== 'power') {
  await build()
  const figures = await timed(kill)
  sections.push(`## kill -9

${seeds.length} rounds against ${SERVERS} real servers: a page edits at random over its live socket, up to six edits at once, and a process is
killed in the midst of them or while the files follow; then its documents and its files are held against what was promised.

${figures}`)
}
if (values.only !== 'kill') {
  const figures = await timed(power)
  sections.push(`## The plug pulled

A killed process leaves what it wrote to the system; a pulled plug does not. ${seeds.length} rounds of three lives on a disk that loses
what was not synced: all of it, none, half, or some sectors of each file; and each name that was not synced, or not.

${figures}`)
}
const page = `# Durability

Made by \`npm run durability -- --rounds ${seeds.length} --write\`; do not edit it. Seeds ${seeds[0]} to ${seeds.at(-1)}: \`-- --rounds 1 --seed N\` gives the
plan of one round again (when exactly a process dies is up to the machine; the pulled plug is the same to the operation).

Machine: ${machine}.

${sections.join('\n\n')}
`
console.log(page)
if (values.write) writeFileSync(new URL('../../docs/durability.md', import.meta.url), page)
