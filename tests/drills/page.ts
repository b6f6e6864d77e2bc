// Writes what the drills measured into docs/drills.md; a drill that was not run this time keeps what it said last.

import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { availableParallelism, cpus, loadavg, platform, release } from 'node:os'
import { limitOf, measuredOf, type Outcome } from './drill.ts'

const page = new URL('../../docs/drills.md', import.meta.url)

const head = `# Drills

What goes wrong on a stage, done to the real product: the built processes of \`serve\`, real UDP (Art-Net and sACN beside each
other) to a receiver in a process of its own, MIDI as timed bytes through the engine's inlet. \`npm run drills\` runs them all
(\`-- NAME\` one of them, \`-- set --minutes 30\` the long one); \`-- --write\` writes the sections of those that ran into this page;
do not edit it. A frame is lost when its sequence number never came. "Our own" limits are promises of this project. A load average above the
number of cores means that other work shared the machine: a changing load as well, and the worst times are its.

`

const machine = (): string => {
  const model = cpus()[0]!.model.trim()
  const load = loadavg()[0]!.toFixed(1)
  return `${model}, ${availableParallelism()} cores, ${platform()} ${release()}, Node ${process.version}, load average ${load}`
}

/** A drill's part of a page: verdict, figures with their limits, day, machine and its load. */
export function sectionOf({ drill, verdict, figures, says, seconds }: Outcome): string {
  const day = new Date().toISOString().slice(0, 10)
  const rows = figures.map(figure => {
    const { limit, source = '' } = figure
    return `| ${figure.what} | ${measuredOf(figure)} | ${limit === 'tells' ? '' : limitOf(figure).trim().slice(1, -1)} | ${source} |`
  })
  const table = ['| measured | value | limit | source of the limit |', '| --- | ---: | ---: | --- |', ...rows]
  return `## ${drill.name}: ${verdict}

${drill.title}.

${figures.length > 0 ? table.join('\n') : `\`\`\`\n${says}\n\`\`\``}

${day}, ${Math.round(seconds)} s, ${machine()}.`
}

export function writePage(outcomes: readonly Outcome[]): void {
  const old = existsSync(page)
    ? readFileSync(page, 'utf8')
        .split(/\n(?=## )/)
        .slice(1)
    : []
  const sections = new Map(old.map(text => [nameOf(text), text.trim()]))
  for (const outcome of outcomes) sections.set(outcome.drill.name, sectionOf(outcome))
  writeFileSync(page, `${head}${[...sections.values()].join('\n\n')}\n`)
}

const nameOf = (section: string): string => /^## ([\w-]+)/.exec(section)?.[1] ?? section
