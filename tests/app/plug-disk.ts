// A disk in memory whose plug can be pulled: what was not synced is lost, as a real one may lose it; and that can be full.

import { posix } from 'node:path'
import type { Disk, OpenFile } from '@glowchart/server/app/disk.ts'

interface Inode {
  text: string
  synced: string
  /** Characters from the start that nobody has touched since they were synced. */
  safe: number
}

/** What becomes of bytes that were not synced: gone, there, cut in the middle, or in part zeros. */
export const losses = ['all', 'none', 'half', 'torn'] as const
type Loss = (typeof losses)[number]

export interface PlugDisk extends Disk {
  /** Operations so far. */
  readonly operations: number
  /** Every operation after this many fails, as on a machine without power. */
  failAfter: number
  /** Characters that can still be written before the disk is full. */
  room: number
  /** Leaves a folder as it is: nothing in it can be made, changed or removed. */
  readOnly: boolean
  /**
   * What a start after the power came back finds. `chance` in [0, 1) decides for each name that was not synced whether
   * it is as before or as after, and for 'mixed' what each file lost.
   */
  afterPowerCut(lost: Loss | 'mixed', chance?: () => number): PlugDisk
  paths(): string[]
  /** A file as another program would see and write it. */
  peek(path: string): string
  poke(path: string, text: string): void
}

const fault = (code: string, says: string): Error => Object.assign(new Error(says), { code })

/** Bytes that a disk writes all or none of. */
const SECTOR = 512

/**
 * Names and bytes are kept apart: `sync` makes a file's bytes durable, `syncFolder` the names in a folder. Names that
 * were not synced may each be there or not after a power cut.
 */
export function plugDisk(names = new Map<string, Inode>(), durable = new Map<string, Inode>()): PlugDisk {
  let operations = 0
  const disk: PlugDisk = {
    failAfter: Number.POSITIVE_INFINITY,
    room: Number.POSITIVE_INFINITY,
    readOnly: false,
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
      change()
      // An existing name keeps its file, which is emptied; the old bytes may survive a power cut, or not.
      const file = names.get(path) ?? { text: '', synced: '', safe: 0 }
      file.text = ''
      file.safe = 0
      names.set(path, file)
      return opened(file)
    },
    async openEnd(path) {
      change()
      return opened(inode(path))
    },
    async rename(from, to) {
      change()
      names.set(to, inode(from))
      names.delete(from)
    },
    async keep(path, as) {
      change()
      if (names.has(as)) throw fault('EEXIST', `it is there: ${as}`)
      names.set(as, inode(path))
    },
    async remove(path) {
      change()
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
    afterPowerCut(lost, chance = () => (lost === 'all' ? 0 : 0.99)) {
      const kept = new Map<Inode, Inode>()
      const left = (file: Inode): Inode => {
        if (!kept.has(file)) {
          const text = textLeft(file, lost === 'mixed' ? pick(chance) : lost, chance)
          kept.set(file, whole(text))
        }
        return kept.get(file)!
      }
      const found = new Map<string, Inode>()
      for (const path of [...new Set([...names.keys(), ...durable.keys()])].sort()) {
        const [before, after] = [durable.get(path), names.get(path)]
        const file = before === after || chance() < 0.5 ? before : after
        if (file) found.set(path, left(file))
      }
      return plugDisk(found, new Map(found))
    },
    paths: () => [...names.keys()].sort(),
    peek: path => inode(path).text,
    poke(path, text) {
      const file = whole(text)
      names.set(path, file)
      durable.set(path, file)
    },
  }

  function opened(file: Inode): OpenFile {
    return {
      async write(text) {
        const fits = Math.min(text.length, disk.room)
        // The last write before the power goes may get half way.
        const cut = operations >= disk.failAfter ? Math.floor(text.length / 2) : fits
        if (operations <= disk.failAfter) file.text += text.slice(0, cut)
        change()
        disk.room -= fits
        if (fits < text.length) throw fault('ENOSPC', 'no space left on device')
      },
      async truncate(length) {
        change()
        file.text = Buffer.from(file.text).subarray(0, length).toString()
        file.safe = Math.min(file.safe, file.text.length)
      },
      async sync() {
        step()
        file.synced = file.text
        file.safe = file.text.length
      },
      async close() {},
    }
  }
  const inode = (path: string): Inode => {
    const file = names.get(path)
    if (!file) throw fault('ENOENT', `no such file: ${path}`)
    return file
  }
  const step = (): void => {
    if (operations++ >= disk.failAfter) throw fault('EIO', 'the power is gone')
  }
  const change = (): void => {
    step()
    if (disk.readOnly) throw fault('EROFS', 'read-only file system')
  }
  return disk
}

const whole = (text: string): Inode => ({ text, synced: text, safe: text.length })

const pick = (chance: () => number): Loss => losses[Math.floor(chance() * losses.length)]!

/** A file's bytes after a power cut; what was synced and not touched since is there, whatever happens. */
function textLeft({ text, synced, safe }: Inode, lost: Loss, chance: () => number): string {
  if (text === synced || lost === 'all') return synced
  if (lost === 'none') return text
  // Cut back after it was synced: both lengths may be found.
  if (synced.startsWith(text)) return chance() < 0.5 ? synced : text
  const loose = text.slice(safe)
  if (lost === 'half') return text.slice(0, safe) + loose.slice(0, Math.floor(loose.length / 2))
  let left = text.slice(0, safe)
  for (let at = 0; at < loose.length; at += SECTOR) {
    const sector = loose.slice(at, at + SECTOR)
    left += chance() < 0.5 ? sector : '\0'.repeat(sector.length)
  }
  return left
}
