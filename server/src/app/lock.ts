// One server a data folder: a lock file with the process that holds it.

import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { CodedError } from '@glowchart/shared/errors.ts'

/** The app that holds a folder, and the supervisor that started it. */
interface Holder {
  readonly app: number
  readonly supervisor: number
}

const lockPath = (dataFolder: string): string => join(dataFolder, 'lock')

function holderOf(dataFolder: string): Holder | null {
  try {
    const [app = 0, supervisor = 0] = readFileSync(lockPath(dataFolder), 'utf8').split(' ').map(Number)
    return { app, supervisor }
  } catch {
    return null
  }
}

/**
 * Takes the folder for this process, also from one that is dead.
 * @returns what gives it back
 * @throws CodedError `data.locked` naming the process that has it, `data.unwritable`
 */
export function lockFolder(dataFolder: string): () => void {
  const path = lockPath(dataFolder)
  for (let tries = 0; ; tries++) {
    try {
      writeFileSync(path, `${process.pid} ${process.ppid}\n`, { flag: 'wx' })
      return () => rmSync(path, { force: true })
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') {
        throw new CodedError('data.unwritable', (error as Error).message, dataFolder)
      }
    }
    const holder = holderOf(dataFolder)
    if (holder && (tries > 0 || lives(holder.app))) throw lockedBy(holder.app, dataFolder)
    rmSync(path, { force: true })
  }
}

/**
 * Makes room for a new supervisor: an app that outlived its own is ended, one that is looked after is not touched.
 * @throws CodedError `data.locked`
 */
export async function retireOrphan(dataFolder: string): Promise<void> {
  const holder = holderOf(dataFolder)
  if (!holder || !lives(holder.app)) return
  if (lives(holder.supervisor)) throw lockedBy(holder.app, dataFolder)
  process.kill(holder.app, 'SIGTERM')
  for (let waited = 0; lives(holder.app); waited += 50) {
    if (waited > 5000) throw lockedBy(holder.app, dataFolder)
    await sleep(50)
  }
}

const lockedBy = (pid: number, dataFolder: string): CodedError =>
  new CodedError('data.locked', `process ${pid} already serves this folder`, dataFolder)

function lives(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 1 || pid === process.pid) return false
  try {
    process.kill(pid, 0)
  } catch (error) {
    // Somebody else's process may not be signalled, but it lives.
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
  // A dead process that nobody has buried yet still answers to a signal.
  return !(process.platform === 'linux' && /\) Z /.test(readFileSync(`/proc/${pid}/stat`, 'utf8')))
}
