// One server a data folder: a lock file that names the process which holds it; that of a dead one is taken over.

import { execFileSync } from 'node:child_process'
import { randomUUID } from 'node:crypto'
import { constants, copyFileSync, linkSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { uptime } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { CodedError } from '@glowchart/shared/errors.ts'
import { codeOf, hasNoLinks } from './disk.ts'

/** A process and when it started, as far as the system tells: numbers of processes are used again. */
interface Process {
  readonly pid: number
  readonly started: string
}

interface Holder {
  readonly app: Process
  /** What started the app, and looks after it. */
  readonly supervisor: Process
  /** Names this lock, whoever holds it. */
  readonly token: string
  /** Seconds that the machine had been up. */
  readonly up: number
}

/** Locks that this very process holds. */
const held = new Set<string>()
const nobody: Process = { pid: 0, started: '' }

/**
 * Takes the folder for this process, also from one that is dead.
 * @returns what gives it back
 * @throws CodedError `data.locked` naming the process that has it, `data.unwritable`
 */
export function lockFolder(dataFolder: string): () => void {
  const path = lockPath(dataFolder)
  const mine: Holder = {
    app: processOf(process.pid),
    supervisor: processOf(process.ppid),
    token: randomUUID(),
    up: uptime(),
  }
  const draft = `${path}.${mine.token}`
  try {
    writeFileSync(draft, JSON.stringify(mine))
    // Of two that find the same dead lock, one moves it away and the other looks again.
    for (let tries = 0; !linked(draft, path); tries++) {
      const holder = holderOf(path)
      if (holder && (tries > 10 || holds(holder))) throw lockedBy(holder, dataFolder)
      if (holder) moveAway(path, holder, `${draft}.dead`)
    }
  } catch (error) {
    if (error instanceof CodedError) throw error
    throw new CodedError('data.unwritable', (error as Error).message, dataFolder)
  } finally {
    rmSync(draft, { force: true })
  }
  held.add(mine.token)
  return () => {
    held.delete(mine.token)
    if (holderOf(path)?.token === mine.token) rmSync(path, { force: true })
  }
}

/**
 * Makes room for a new supervisor: an app that outlived its own is ended, one that is looked after is not touched.
 * @throws CodedError `data.locked`
 */
export async function retireOrphan(dataFolder: string): Promise<void> {
  const holder = holderOf(lockPath(dataFolder))
  if (!holder || !lives(holder.app, holder)) return
  // Where the system does not tell when a process started, this one may be anybody's.
  if (lives(holder.supervisor, holder) || holder.app.started === '') throw lockedBy(holder, dataFolder)
  process.kill(holder.app.pid, 'SIGTERM')
  for (let waited = 0; lives(holder.app, holder); waited += 50) {
    if (waited > 5000) throw lockedBy(holder, dataFolder)
    await sleep(50)
  }
}

const lockPath = (dataFolder: string): string => join(dataFolder, 'lock')

const lockedBy = (holder: Holder, dataFolder: string): CodedError =>
  new CodedError('data.locked', `process ${holder.app.pid} already serves this folder`, dataFolder)

/** A link is made whole or not at all, so that nobody reads half a lock; where there are none, a copy must do. */
function linked(from: string, to: string): boolean {
  try {
    try {
      linkSync(from, to)
    } catch (error) {
      if (!hasNoLinks(error)) throw error
      copyFileSync(from, to, constants.COPYFILE_EXCL)
    }
    return true
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false
    throw error
  }
}

/** Null when there is no lock; one that cannot be read is nobody's. */
function holderOf(path: string): Holder | null {
  try {
    const { app = nobody, supervisor = nobody, token = '', up = 0 } = JSON.parse(readFileSync(path, 'utf8'))
    return { app, supervisor, token, up }
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? null : { app: nobody, supervisor: nobody, token: '', up: 0 }
  }
}

/** What is moved away must be the dead lock, and not one that somebody has made since. */
function moveAway(path: string, dead: Holder, aside: string): void {
  try {
    renameSync(path, aside)
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return
    throw error
  }
  if (holderOf(aside)?.token !== dead.token) linked(aside, path)
  rmSync(aside, { force: true })
}

const holds = (holder: Holder): boolean =>
  holder.app.pid === process.pid ? held.has(holder.token) : lives(holder.app, holder)

function lives({ pid, started }: Process, { up }: Holder): boolean {
  if (!Number.isInteger(pid) || pid <= 1) return false
  // The machine has been started again since (a second for the system's rounding): the number is another's.
  if (uptime() + 1 < up) return false
  try {
    process.kill(pid, 0)
  } catch (error) {
    // Somebody else's process may not be signalled, but it lives.
    if (codeOf(error) !== 'EPERM') return false
  }
  return processOf(pid).started === started
}

/**
 * The start in the kernel's ticks since boot (proc(5): field 22), "dead" for a process that nobody has buried yet
 * (field 3); without /proc the time that ps tells; empty where neither is there (Windows).
 */
function processOf(pid: number): Process {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
    return { pid, started: fields[0] === 'Z' ? 'dead' : (fields[19] ?? '') }
  } catch {
    return { pid, started: process.platform === 'win32' ? '' : startByPs(pid) }
  }
}

function startByPs(pid: number): string {
  try {
    const env = { ...process.env, LC_ALL: 'C', TZ: 'UTC' }
    const words = ['-o', 'lstart=', '-p', String(pid)]
    return execFileSync('ps', words, { encoding: 'utf8', env, stdio: ['ignore', 'pipe', 'ignore'] }).trim()
  } catch {
    return ''
  }
}
