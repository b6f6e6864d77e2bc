// What is kept of the access by others, in the data folder: where it listens, the PIN's hash, who joined, misses.

import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type KeptAccess, keptAccessSchema } from '@glowchart/shared/access/kept.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { codeOf, nodeDisk, replaceFile } from '../app/disk.ts'

const NAME = 'access.json'
/**
 * Null when nothing was kept; a file that cannot be read counts as that: then nobody is let in.
 * @returns with what was wrong, in plain words
 */
export async function readAccess(folder: string): Promise<{ kept: KeptAccess | null; says: string }> {
  try {
    const kept = keptAccessSchema.safeParse(JSON.parse(await readFile(join(folder, NAME), 'utf8')))
    if (kept.success) return { kept: kept.data, says: '' }
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return { kept: null, says: '' }
  }
  return { kept: null, says: 'who may join from the network could not be read: it is closed to others' }
}

/** Durable when it resolves. @throws CodedError `data.unwritable` */
export async function writeAccess(folder: string, kept: Omit<KeptAccess, 'version'>): Promise<void> {
  try {
    await replaceFile(nodeDisk, folder, NAME, `${JSON.stringify({ version: 1, ...kept }, null, 2)}\n`)
  } catch (error) {
    throw new CodedError('data.unwritable', `cannot be written: ${(error as Error).message}`, folder)
  }
}
