// A disk in memory whose plug can be pulled: what was not synced is lost, as a real one may lose it.

import { posix } from 'node:path'
import type { Disk, OpenFile } from '@glowchart/server/app/disk.ts'

interface Inode {
  text: string
  synced: string
}

export interface PlugDisk extends Disk {
  /** Operations so far. */
  readonly operations: number
  /** Every operation after this many fails, as on a machine without power. */
  failAfter: number
  /** What a start after the power came back finds: unsynced bytes and names are gone, or half there. */
  afterPowerCut(lost: 'all' | 'half'): PlugDisk
  paths(): string[]
}

const missing = (path: string): Error => Object.assign(new Error(`no such file: ${path}`), { code: 'ENOENT' })

/**
 * Names and bytes are kept apart: `sync` makes a file's bytes durable, `syncFolder` the names in a folder. Names that
 * were not synced may each be there or not after a power cut; here either none or all of them are, so that both ends
 * are tried.
 */
export function plugDisk(names = new Map<string, Inode>(), durable = new Map<string, Inode>()): PlugDisk {
  let operations = 0
  const disk: PlugDisk = {
    failAfter: Number.POSITIVE_INFINITY,
    get operations() {
      return operations
    },
    async read(path) {
      step()
      return inode(path).text
    },
    async list(folder) {
      step()
      return [...names.keys()]
        .filter(path => posix.dirname(path) === folder)
        .map(path => posix.basename(path))
    },
    async makeFolder() {
      step()
    },
    async create(path) {
      step()
      // An existing name keeps its file, which is emptied; the old bytes may survive a power cut, or not.
      const file = names.get(path) ?? { text: '', synced: '' }
      file.text = ''
      names.set(path, file)
      return {
        async write(text) {
          step()
          file.text += text
        },
        async sync() {
          step()
          file.synced = file.text
        },
        async close() {},
      } satisfies OpenFile
    },
    async rename(from, to) {
      step()
      names.set(to, inode(from))
      names.delete(from)
    },
    async keep(path, as) {
      step()
      names.set(as, inode(path))
    },
    async remove(path) {
      step()
      names.delete(path)
    },
    async syncFolder(folder) {
      step()
      for (const path of new Set([...names.keys(), ...durable.keys()])) {
        if (posix.dirname(path) !== folder) continue
        const file = names.get(path)
        if (file) durable.set(path, file)
        else durable.delete(path)
      }
    },
    afterPowerCut(lost) {
      const left = new Map<string, Inode>()
      for (const [path, file] of lost === 'all' ? durable : names) {
        const unsynced = file.text.slice(0, Math.floor(file.text.length / 2))
        const text = lost === 'all' || file.text === file.synced ? file.synced : unsynced
        left.set(path, { text, synced: text })
      }
      return plugDisk(left, new Map(left))
    },
    paths: () => [...names.keys()].sort(),
  }
  const inode = (path: string): Inode => {
    const file = names.get(path)
    if (!file) throw missing(path)
    return file
  }
  const step = (): void => {
    if (operations >= disk.failAfter) throw Object.assign(new Error('the power is gone'), { code: 'EIO' })
    operations++
  }
  return disk
}
