// `serve`: the page, the documents and the lights, kept running.

import { mkdirSync } from 'node:fs'
import { type AddressInfo, createServer } from 'node:net'
import { homedir } from 'node:os'
import { join, resolve } from 'node:path'
import { CodedError } from '@glowchart/shared/errors.ts'
import { retireOrphan } from '../app/lock.ts'
import { supervise } from '../supervisor.ts'
import { bundleOf, numberOf, optionsOf } from './arguments.ts'

const PORT = 3210

/** Chosen here and not by the app, so that a restarted app is at the same address. */
async function freePort(): Promise<number> {
  const server = createServer()
  await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  await new Promise(resolve => server.close(resolve))
  return port
}

export async function serve(words: string[]): Promise<number> {
  const { file, values } = optionsOf(
    words,
    { data: { type: 'string' }, port: { type: 'string' }, 'midi-clock-to': { type: 'string' } },
    'optional',
  )
  const dataFolder = resolve(values.data ?? process.env.GLOWCHART_DATA ?? join(homedir(), '.glowchart'))
  const port =
    values.port === undefined ? PORT : numberOf('port', values.port, 0, 65535) || (await freePort())
  // Read here, so that a damaged file is said before anything starts.
  if (file !== undefined) await bundleOf(file)
  try {
    mkdirSync(dataFolder, { recursive: true })
  } catch (error) {
    throw new CodedError('data.unwritable', `it cannot be made (${(error as Error).message})`, dataFolder)
  }
  await retireOrphan(dataFolder)
  return supervise({
    dataFolder,
    engineArguments: values['midi-clock-to'] === undefined ? [] : [values['midi-clock-to']],
    appArguments: [String(port), ...(file === undefined ? [] : [file === 'demo' ? file : resolve(file)])],
  })
}
