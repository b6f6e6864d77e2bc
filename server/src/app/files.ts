// Files that survive a pulled plug: written whole beside the old one, forced to the disk, then renamed over it.

import { constants, type FileHandle, open, rename } from 'node:fs/promises'
import { dirname } from 'node:path'

/**
 * Replaces a file's text. When this resolves, the new text is on the disk under the file's name; when it rejects, the
 * old file is as it was.
 */
export async function writeDurably(path: string, text: string): Promise<void> {
  const beside = `${path}.new`
  const file = await open(beside, 'w')
  try {
    await file.writeFile(text)
    await file.sync()
  } finally {
    await file.close()
  }
  await rename(beside, path)
  await syncFolder(dirname(path))
}

/** A rename is durable only once its folder is. Windows cannot open folders, and needs no such thing. */
async function syncFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return
  let folder: FileHandle | undefined
  try {
    folder = await open(path, constants.O_RDONLY)
    await folder.sync()
  } finally {
    await folder?.close()
  }
}
