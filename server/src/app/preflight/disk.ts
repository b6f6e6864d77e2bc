// Whether the data folder takes what is written: a file is written, made durable, read back and compared.

import { randomBytes, randomUUID } from 'node:crypto'
import { open, readFile, rm, statfs } from 'node:fs/promises'
import { join } from 'node:path'
import type { ServerFacts } from '@glowchart/shared/preflight/facts.ts'

const PROBE_BYTES = 64 * 1024

/** Tries the folder; never rejects, and leaves nothing behind. */
export async function tryDisk(folder: string): Promise<ServerFacts['disk']> {
  return { says: await written(folder), free: await freeIn(folder) }
}

async function written(folder: string): Promise<string> {
  const path = join(folder, `.${randomUUID()}.probe`)
  const bytes = randomBytes(PROBE_BYTES)
  try {
    const file = await open(path, 'wx')
    try {
      await file.writeFile(bytes)
      await file.sync()
    } finally {
      await file.close()
    }
    return bytes.equals(await readFile(path)) ? '' : 'what was read is not what was written'
  } catch (error) {
    return (error as Error).message
  } finally {
    await rm(path, { force: true }).catch(() => {})
  }
}

/** Bytes that this user may still write; null where the system does not tell. */
async function freeIn(folder: string): Promise<number | null> {
  try {
    const { bavail, bsize } = await statfs(folder)
    return bavail * bsize
  } catch {
    return null
  }
}
