// This installation's identity: the sACN CID, made once and kept beside the documents.

import { randomUUID } from 'node:crypto'
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

/**
 * 16 octets of an RFC 4122 UUID, the same for the life of the installation (E1.31-2018 5.6). A folder that cannot be
 * written gets a new one each time: receivers then see a new source, which is better than no light.
 */
export function installationId(dataFolder: string): Uint8Array {
  const file = join(dataFolder, 'cid')
  const kept = read(file)
  if (kept) return kept
  const made = randomUUID()
  const draft = `${file}.${made}`
  try {
    mkdirSync(dataFolder, { recursive: true })
    writeFileSync(draft, `${made}\n`)
    // Whole, and also in the place of one that a power cut left empty.
    renameSync(draft, file)
  } catch {
    // The folder is read-only.
  }
  // Another process may have been last.
  return read(file) ?? octets(made)
}

function read(file: string): Uint8Array | null {
  try {
    const text = readFileSync(file, 'utf8').trim()
    return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(text) ? octets(text) : null
  } catch {
    return null
  }
}

/** A UUID's 16 octets. */
export const octets = (uuid: string): Uint8Array =>
  new Uint8Array(Buffer.from(uuid.replaceAll('-', ''), 'hex'))
