// The few things the document store asks of a file system, so that faults can be tried on another one.

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
  // Not opened to append: Windows lets nothing be taken away from such a file (libuv opens it without FILE_WRITE_DATA).
  openEnd: async path => {
    const file = await open(path, 'r+')
    return openFile(file, (await file.stat()).size)
  },
  rename,
  async keep(path, as) {
    try {
      await link(path, as)
    } catch (error) {
      if (!hasNoLinks(error)) throw error
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

/** @param from the octet to write at first */
function openFile(file: FileHandle, from = 0): OpenFile {
  let at = from
  return {
    async write(text) {
      // Given text, Node encodes and writes it in many small parts.
      const bytes = Buffer.from(text)
      for (let done = 0; done < bytes.length; ) {
        const { bytesWritten } = await file.write(bytes, done, bytes.length - done, at)
        done += bytesWritten
        at += bytesWritten
      }
    },
    async truncate(bytes) {
      await file.truncate(bytes)
      at = bytes
    },
    // The length belongs to the data; when it was touched does not.
    sync: () => file.datasync(),
    close: () => file.close(),
  }
}

/** The system's name of an error, such as "ENOENT". */
export const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? ''

/**
 * Whether a second name failed because the file system knows none, as FAT on a stick. The system's codes of that; EISDIR
 * is libuv's for ERROR_INVALID_FUNCTION of Windows (from memory).
 */
export const hasNoLinks = (error: unknown): boolean =>
  ['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK', 'EISDIR'].includes(codeOf(error))

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
