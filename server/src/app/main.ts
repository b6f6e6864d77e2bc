// The app process: documents, pages and the live socket, beside the engine.

import { setPriority } from 'node:os'
import { fileURLToPath } from 'node:url'
import { CodedError } from '@glowchart/shared/errors.ts'
import { bundleOf } from '../cli/arguments.ts'
import { pipeLink } from '../engine/link.ts'
import { engineAddress } from '../engine/pipe.ts'
import { HOPELESS } from '../supervisor.ts'
import { startApp } from './start.ts'
import { type FromSupervisor, supervisorLink } from './supervisor-link.ts'

const [dataFolder, port, first] = process.argv.slice(2) as [string, string, string | undefined]

// Whoever read what is printed may be gone: a closed window, a pipe that ended. That ends nobody.
for (const printed of [process.stdout, process.stderr]) printed.on('error', () => {})

// Ctrl-C reaches every process of the terminal; the supervisor tells this one when to end.
process.on('SIGINT', () => {})
process.on('SIGHUP', () => {})

/** What ends it, once it has begun. */
let end = (): void => process.exit(0)
process.once('SIGTERM', () => end())
process.on('message', ({ type }: FromSupervisor) => {
  if (type === 'end') end()
})

// Pages and disks come after lights; elsewhere than on Linux this would be the whole machine's business.
if (process.platform === 'linux') setPriority(0, 10)

try {
  const app = await startApp({
    dataFolder,
    port: Number(port),
    pageFolder: fileURLToPath(new URL('../../web/dist', import.meta.url)),
    engine: pipeLink(engineAddress(dataFolder)),
    supervisor: supervisorLink(),
    first: first === undefined ? undefined : () => bundleOf(first),
  })
  for (const notice of app.notices) process.stderr.write(`${notice}\n`)
  process.stdout.write(`Glowchart is at ${app.url}\n`)
  end = () => void app.close().then(() => process.exit(0))
} catch (error) {
  if (!(error instanceof CodedError)) throw error
  const { code, message, where, remedy } = error.problem
  process.stderr.write(`${code}: ${message}\n  in ${where}\n  ${remedy}\n`)
  process.exit(HOPELESS)
}
