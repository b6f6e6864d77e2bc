// Rigs and shows as files: read, written whole and durably, with earlier versions, damaged and foreign files kept.

import { join } from 'node:path'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { parseJson } from '@glowchart/shared/show/json.ts'
import { codeOf, type Disk, replaceFile } from './disk.ts'
import { hashOf, type Kind } from './journal.ts'
import { superfluous, versionName, versionsIn, versionTime } from './versions.ts'

export const kinds: readonly Kind[] = ['rig', 'show']
const parse = { rig: parseRig, show: parseShow }

export interface DocumentFiles {
  folderOf(kind: Kind): string
  fileOf(kind: Kind, id: string): string
  /** Null when there is none. @throws CodedError `file.unreadable` */
  textOf(kind: Kind, id: string): Promise<string | null>
  /** The same, to go on from: whatever stands there later and is not this was put there by somebody else. */
  take(kind: Kind, id: string): Promise<string | null>
  /** SHA-256 of what was taken or written last; undefined: nothing was yet, or there was none. */
  hashOf(kind: Kind, id: string): string | undefined
  /** @throws CodedError `file.*`, `document.*` */
  documentOf<K extends Kind>(kind: K, id: string, text: string): Documents[K]
  /** Null when there is none. A damaged file is kept aside, and its last good version put in its place. */
  read<K extends Kind>(kind: K, id: string): Promise<Documents[K] | null>
  /** The file that stands becomes a version; one that somebody else put there is kept aside too, and named. */
  write(kind: Kind, id: string, text: string): Promise<void>
  /** Keeps a text in a folder of what the user should look at. @returns its path */
  keepTextAside(text: string, folder: string, name: string): Promise<string>
}

export interface FilesOptions {
  disk: Disk
  /** Ms since 1970, to name versions by. */
  now: () => number
  notices: Problem[]
}

export function documentFiles(folder: string, { disk, now, notices }: FilesOptions): DocumentFiles {
  /** Versions by document folder, newest first, once they have been looked at. */
  const known = new Map<string, string[]>()
  /** By path: what was taken or written last, and a text that may have got there although writing it failed. */
  const hashes = new Map<string, string>()
  const attempted = new Map<string, string>()

  const folderOf = (kind: Kind): string => join(folder, `${kind}s`)
  const fileOf = (kind: Kind, id: string): string => join(folderOf(kind), `${id}.json`)
  const versionsOf = (kind: Kind, id: string): string => join(folder, 'versions', `${kind}s`, id)

  async function textOf(kind: Kind, id: string): Promise<string | null> {
    const path = fileOf(kind, id)
    try {
      return await disk.read(path)
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return null
      throw new CodedError('file.unreadable', `the file cannot be read (${(error as Error).message})`, path)
    }
  }

  async function take(kind: Kind, id: string): Promise<string | null> {
    const path = fileOf(kind, id)
    const text = await textOf(kind, id)
    if (text === null) hashes.delete(path)
    else hashes.set(path, hashOf(text))
    return text
  }

  async function knownVersions(kind: Kind, id: string): Promise<string[]> {
    const place = versionsOf(kind, id)
    let versions = known.get(place)
    if (!versions) {
      versions = versionsIn(
        await disk.list(place).catch(error => (codeOf(error) === 'ENOENT' ? [] : Promise.reject(error))),
      )
      known.set(place, versions)
    }
    return versions
  }

  /** Gives the file that stands a name among the versions; the name is never one that is there. */
  async function keepVersion(kind: Kind, id: string): Promise<void> {
    const place = versionsOf(kind, id)
    const versions = await knownVersions(kind, id)
    const newest = versions[0]
    const name = versionName(Math.max(now(), newest === undefined ? 0 : versionTime(newest) + 1))
    if (newest === undefined) {
      await disk.makeFolder(place)
      for (const above of [folder, join(folder, 'versions'), join(folder, 'versions', `${kind}s`)]) {
        await disk.syncFolder(above)
      }
    }
    try {
      await disk.keep(fileOf(kind, id), join(place, name))
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return
      throw error
    }
    versions.unshift(name)
    await disk.syncFolder(place)
    const gone = superfluous(versions)
    if (gone.length === 0) return
    for (const old of gone) await disk.remove(join(place, old))
    known.set(
      place,
      versions.filter(version => !gone.includes(version)),
    )
  }

  /** A name that is not there yet, in a folder of what is kept for the user to look at. */
  async function aside(kept: string, name: string): Promise<{ place: string; as: string }> {
    const place = join(folder, kept)
    await disk.makeFolder(place)
    await disk.syncFolder(folder)
    const taken = new Set(await disk.list(place))
    let time = now()
    // A clock may stand still or go back.
    while (taken.has(`${name}-${versionName(time)}`)) time++
    return { place, as: `${name}-${versionName(time)}` }
  }

  async function keepAside(path: string, kept: string, name: string): Promise<string> {
    const { place, as } = await aside(kept, name)
    await disk.keep(path, join(place, as))
    await disk.syncFolder(place)
    return join(place, as)
  }

  /** Somebody else's work must not be lost among the versions, which are pruned. */
  async function keepForeign(kind: Kind, id: string): Promise<void> {
    const path = fileOf(kind, id)
    const expected = hashes.get(path)
    const text = await textOf(kind, id)
    if (text === null || expected === undefined) return
    const hash = hashOf(text)
    if (hash === expected || hash === attempted.get(path)) return
    const kept = await keepAside(path, 'replaced', `${kind}-${id}`)
    hashes.set(path, hash)
    const says =
      'another program changed the file while it was open here; ' +
      `what was edited here stands in it now, and the other is kept as ${kept}`
    notices.push(problem('file.replaced', says, path))
  }

  function documentOf<K extends Kind>(kind: K, id: string, text: string, path: string): Documents[K] {
    const document = parse[kind](parseJson(text, path), path) as Documents[K]
    if (document.id === id) return document
    throw new CodedError(
      'document.schema',
      `id: must be "${id}" as the file's name, but is "${document.id}"`,
      `${path}: id`,
    )
  }

  /** The newest version that can be read, put in the place of a damaged file, which is kept. */
  async function recovered<K extends Kind>(kind: K, id: string, fault: CodedError): Promise<Documents[K]> {
    for (const version of await knownVersions(kind, id)) {
      const path = join(versionsOf(kind, id), version)
      const text = await disk.read(path).catch(() => null)
      const document = text === null ? null : tried(() => documentOf(kind, id, text, path))
      if (!document) continue
      const kept = await keepAside(fileOf(kind, id), 'damaged', `${kind}-${id}`)
      await replaceFile(disk, folderOf(kind), `${id}.json`, text!)
      hashes.set(fileOf(kind, id), hashOf(text!))
      const says =
        `the file is damaged (${fault.message}); the version replaced on ${new Date(versionTime(version)).toISOString()} ` +
        `was opened instead, and the damaged file is kept as ${kept}`
      notices.push(problem('file.damaged', says, fault.where))
      return document
    }
    throw fault
  }

  return {
    folderOf,
    fileOf,
    textOf,
    take,
    hashOf: (kind, id) => hashes.get(fileOf(kind, id)),
    documentOf: (kind, id, text) => documentOf(kind, id, text, fileOf(kind, id)),

    async read(kind, id) {
      const text = await take(kind, id)
      if (text === null) return null
      try {
        return documentOf(kind, id, text, fileOf(kind, id))
      } catch (error) {
        // A file of a newer Glowchart is whole: an older version in its place would lose work.
        if (!(error instanceof CodedError) || error.code === 'document.newer') throw error
        return recovered(kind, id, error)
      }
    },

    async keepTextAside(text, kept, name) {
      const { place, as } = await aside(kept, name)
      await replaceFile(disk, place, as, text)
      return join(place, as)
    },

    async write(kind, id, text) {
      await keepForeign(kind, id)
      await keepVersion(kind, id)
      const hash = hashOf(text)
      attempted.set(fileOf(kind, id), hash)
      await replaceFile(disk, folderOf(kind), `${id}.json`, text)
      hashes.set(fileOf(kind, id), hash)
    },
  }
}

function tried<T>(read: () => T): T | null {
  try {
    return read()
  } catch {
    return null
  }
}
