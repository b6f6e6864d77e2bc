// What the system counts of a process and of its files: descriptors, sockets, threads, bytes on the disk.

import { readdirSync, readFileSync, readlinkSync, statSync } from 'node:fs'
import { join } from 'node:path'

export interface Counts {
  'file descriptors': number
  sockets: number
  threads: number
}

/** Of a process that runs (proc(5)); null where there is no /proc, or no such process any more. */
export function countsOf(pid: number): Counts | null {
  try {
    const folder = `/proc/${pid}/fd`
    const all = readdirSync(folder)
    const sockets = all.filter(fd => isSocket(join(folder, fd))).length
    const [, threads] = /^Threads:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? []
    return { 'file descriptors': all.length, sockets, threads: Number(threads) }
  } catch {
    return null
  }
}

function isSocket(fd: string): boolean {
  try {
    return readlinkSync(fd).startsWith('socket:')
  } catch {
    // Closed between the two looks.
    return false
  }
}

/** Of a file, or of all files below a folder; 0 when it is not there. */
export function bytesOf(path: string): number {
  const stat = statSync(path, { throwIfNoEntry: false })
  if (!stat) return 0
  if (!stat.isDirectory()) return stat.size
  return readdirSync(path).reduce((sum, name) => sum + bytesOf(join(path, name)), 0)
}
