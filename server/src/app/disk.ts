// The few things the document store asks of a file system, so that faults can be tried on another one.

import { constants } from 'node:fs'
import { copyFile, type FileHandle, link, mkdir, open, readdir, readFile, rename, rm } from 'node:fs/promises'

/** A file that is being written; durable once `sync` has resolved and the folder is synced too. */
export interface OpenFile {
  write(text: string): Promise<void>
  /** Takes away what is beyond so many bytes. */
  truncate(bytes: number): Promise<void>
  sync(): Promise<void>
  close(): Promise<void>
}

/** Paths are absolute. Everything rejects with the system's error, whose `code` is as Node's. */
export interface Disk {
  read(path: string): Promise<string>
  /** Names in a folder, in no order. */
  list(folder: string): Promise<string[]>
  /** With those above it; nothing happens if it is there. */
  makeFolder(path: string): Promise<void>
  /** Empties a file that is there. */
  create(path: string): Promise<OpenFile>
  /** A file that is there, to write at its end. */
  openEnd(path: string): Promise<OpenFile>
  rename(from: string, to: string): Promise<void>
  /** Gives the file a second name that keeps its bytes when the first is replaced. */
  keep(path: string, as: string): Promise<void>
  remove(path: string): Promise<void>
  /** Makes new, renamed and removed names in a folder durable. */
  syncFolder(path: string): Promise<void>
}

export const nodeDisk: Disk = {
  read: path => readFile(path, 'utf8'),
  list: readdir,
  makeFolder: async path => {
    await mkdir(path, { recursive: true })
  },
  create: async path => openFile(await open(path, 'w')),
  openEnd: async path => openFile(await open(path, constants.O_WRONLY | constants.O_APPEND)),
  rename,
  async keep(path, as) {
    try {
      await link(path, as)
    } catch (error) {
      // Not every file system has second names.
      if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes(codeOf(error))) throw error
      await copyFile(path, as)
      const copy = await open(as, 'r+')
      try {
        await copy.sync()
      } finally {
        await copy.close()
      }
    }
  },
  remove: path => rm(path, { force: true }),
  async syncFolder(path) {
    // Windows cannot open folders; its file system keeps names in a journal of its own.
    if (process.platform === 'win32') return
    const folder = await open(path, 'r')
    try {
      await folder.sync()
    } finally {
      await folder.close()
    }
  },
}

function openFile(file: FileHandle): OpenFile {
  return {
    // Given text, Node encodes and writes it in many small parts.
    write: text => file.writeFile(Buffer.from(text)),
    truncate: bytes => file.truncate(bytes),
    // The length belongs to the data; when it was touched does not.
    sync: () => file.datasync(),
    close: () => file.close(),
  }
}

/** The system's name of an error, such as "ENOENT". */
export const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? ''

/** Puts a text in the place of a file, all of it or nothing; durable when it resolves. */
export async function replaceFile(disk: Disk, folder: string, name: string, text: string): Promise<void> {
  const temporary = `${folder}/.${name}.new`
  const file = await disk.create(temporary)
  try {
    await file.write(text)
    await file.sync()
  } finally {
    await file.close()
  }
  await disk.rename(temporary, `${folder}/${name}`)
  await disk.syncFolder(folder)
}
