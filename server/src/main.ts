// The command line: one command a capability, usage errors on stderr with exit 2.

import { CodedError } from '@glowchart/shared/errors.ts'
import { UsageError } from './cli/arguments.ts'
import { check } from './cli/check.ts'
import { play } from './cli/play.ts'
import { render } from './cli/render.ts'
import { serve } from './cli/serve.ts'
import { songs } from './cli/songs.ts'

const commands: Record<string, (words: string[]) => Promise<number>> = { serve, songs, play, render, check }

const usage = `Usage: npm run glowchart -- COMMAND
  serve [FILE|demo] [--data FOLDER] [--port N] [--midi-clock-to MIDI-PORT]
      serve the page and run the lights; FILE or demo is taken into the data folder if it is not there yet
  songs FILE|demo [--json]
      titles, one a line; with --json lengths, tempo and kits too
  play FILE|demo [--song TITLE] [--kit NAME] [--from BAR] [--seconds N] [--rate HZ]
       [--artnet HOST[:PORT]] [--sacn HOST[:PORT]|multicast] [--changes] [--midi-bytes FILE] [--json]
      play headless to the network
  render FILE|demo [--song TITLE] [--kit NAME] [--from BAR] [--bars N] [--rate HZ]
       [--artnet HOST[:PORT]] [--sacn HOST[:PORT]|multicast] --out FILE.pcap|.csv|.ndjson
      write exactly what would be sent
  check FILE|demo [--kit NAME] [--json]
      print advice; exit 1 on errors
`

async function main(words: string[]): Promise<number> {
  const [name, ...rest] = words
  if (name === 'help' || name === '--help') {
    process.stdout.write(usage)
    return 0
  }
  const command = name === undefined ? undefined : commands[name]
  if (!command) {
    process.stderr.write(name === undefined ? usage : `There is no command "${name}".\n${usage}`)
    return 2
  }
  try {
    return await command(rest)
  } catch (error) {
    if (error instanceof UsageError) {
      process.stderr.write(`${error.message}\n${usage}`)
      return 2
    }
    if (error instanceof CodedError) {
      const { code, message, where, remedy } = error.problem
      process.stderr.write(`${code}: ${message}\n  in ${where}\n  ${remedy}\n`)
      return 1
    }
    throw error
  }
}

// A reader that has seen enough (a pager, head) closes the pipe: that is no fault.
process.stdout.on('error', error => {
  if ((error as NodeJS.ErrnoException).code === 'EPIPE') process.exit(0)
  throw error
})

process.exitCode = await main(process.argv.slice(2))
