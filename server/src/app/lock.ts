// One server a data folder: a lock file with the process that holds it.

import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { CodedError } from '@glowchart/shared/errors.ts'

/**
 * Takes the folder, also from a process that is dead.
 * @returns what gives it back
 * @throws CodedError `data.locked` naming the process that has it
 */
export function lockFolder(dataFolder: string): () => void {
  const path = join(dataFolder, 'lock')
  for (let tries = 0; ; tries++) {
    try {
      writeFileSync(path, `${process.pid}\n`, { flag: 'wx' })
      return () => rmSync(path, { force: true })
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') {
        throw new CodedError('data.unwritable', (error as Error).message, dataFolder)
      }
    }
    const holder = Number(readFileSync(path, 'utf8'))
    if (tries > 0 || lives(holder)) {
      throw new CodedError('data.locked', `process ${holder} already serves this folder`, dataFolder)
    }
    rmSync(path, { force: true })
  }
}

function lives(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0 || pid === process.pid) return false
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // Somebody else's process may not be signalled, but it lives.
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
