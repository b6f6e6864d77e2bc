// `check`: reads a show and prints what the tool advises; damaged files and stop advice exit with 1.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { adviseShow } from '@glowchart/shared/advice/advise.ts'
import { bundleOf, kitOf, optionsOf } from './arguments.ts'

export async function check(words: string[]): Promise<number> {
  const { file, values } = optionsOf(words, { kit: { type: 'string' }, json: { type: 'boolean' } })
  const { rig, show } = await bundleOf(file!)
  const shown = process.stderr.isTTY
  const advice = adviseShow(rig, show, kitOf(show, values.kit), ({ song, frames, of }) => {
    if (shown) process.stderr.write(`\r${show.songs[song]!.title}: ${Math.round((frames / of) * 100)} %   `)
  })
  if (shown) process.stderr.write('\r')
  if (values.json) {
    process.stdout.write(`${JSON.stringify(advice, null, 2)}\n`)
  } else if (advice.length === 0) {
    process.stdout.write(`${show.name}: nothing to advise.\n`)
  } else {
    for (const one of advice) process.stdout.write(textOf(one))
  }
  return advice.some(one => one.severity === 'stop') ? 1 : 0
}

const textOf = ({ severity, says, remedy, source }: Advice): string =>
  `${severity}: ${says}\n  ${remedy}\n${source ? `  (${source})\n` : ''}`
