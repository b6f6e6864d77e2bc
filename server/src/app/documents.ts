// The documents on disk: rigs and shows as files, written whole and durably, with earlier versions beside them.

import { join } from 'node:path'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import { canonicalWriter } from '@glowchart/shared/show/canonical.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { id as idSchema } from '@glowchart/shared/show/fields.ts'
import { parseJson } from '@glowchart/shared/show/json.ts'
import { codeOf, type Disk, nodeDisk, replaceFile } from './disk.ts'
import { lockFolder } from './lock.ts'
import { superfluous, versionName, versionsIn, versionTime } from './versions.ts'

export type Kind = 'rig' | 'show'
const kinds: readonly Kind[] = ['rig', 'show']
const parse = { rig: parseRig, show: parseShow }

export interface ShowEntry {
  readonly id: string
  /** The id, when the file cannot be read. */
  readonly name: string
  readonly problem?: Problem
}

export interface DocumentStore {
  readonly folder: string
  /** What was found damaged since the store was opened, and what was done about it. */
  readonly notices: readonly Problem[]
  shows(): Promise<ShowEntry[]>
  /** The text of a document's file; null when there is none. */
  textOf(kind: Kind, id: string): Promise<string | null>
  /**
   * A show and its rig. A damaged file is kept aside and its last good version put in its place; see `notices`.
   * @throws CodedError `show.unknown`, `document.rig`, `document.newer`; `file.*` or `document.*` of a damaged file
   *   that has no good version, which stays as it is
   */
  load(show: string): Promise<Documents>
  /** Writes documents; they are durable when it resolves. @throws CodedError `data.unwritable` */
  save(documents: Partial<Documents>): Promise<void>
  /** The show that was open last, and in which session of the server; null when it is not known or gone. */
  lastOpen(): Promise<{ show: string; session: string } | null>
  /** Remembers what is open. It is a hint: nothing is said when it cannot be written. */
  rememberOpen(show: string, session: string): Promise<void>
  /** Lets another server at the folder. */
  close(): void
}

export interface StoreOptions {
  disk?: Disk
  /** Ms since 1970, to name versions by. */
  now?: () => number
}

/**
 * Opens a data folder (making it if need be) and locks it: `rigs/<id>.json`, `shows/<id>.json`,
 * `versions/<kind>s/<id>/<time>.json`, `damaged/`.
 * @throws CodedError `data.locked`, `data.unwritable`
 */
export async function openDocuments(
  folder: string,
  { disk = nodeDisk, now = Date.now }: StoreOptions = {},
): Promise<DocumentStore> {
  try {
    await disk.makeFolder(folder)
    for (const kind of kinds) await disk.makeFolder(folderOf(kind))
    await disk.syncFolder(folder)
  } catch (error) {
    throw unwritable(error)
  }
  const unlock = lockFolder(folder)
  const notices: Problem[] = []
  const write = canonicalWriter()
  /** Versions by document folder, newest first, once they have been looked at. */
  const known = new Map<string, string[]>()

  function folderOf(kind: Kind): string {
    return join(folder, `${kind}s`)
  }
  const fileOf = (kind: Kind, id: string): string => join(folderOf(kind), `${id}.json`)
  const versionsOf = (kind: Kind, id: string): string => join(folder, 'versions', `${kind}s`, id)

  function unwritable(error: unknown): CodedError {
    return new CodedError('data.unwritable', `cannot be written: ${(error as Error).message}`, folder)
  }

  async function textOf(kind: Kind, id: string): Promise<string | null> {
    const path = fileOf(kind, id)
    try {
      return await disk.read(path)
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return null
      throw new CodedError('file.unreadable', `the file cannot be read (${(error as Error).message})`, path)
    }
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
    if (newest === undefined) await disk.makeFolder(place)
    try {
      await disk.keep(fileOf(kind, id), join(place, name))
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return
      throw error
    }
    versions.unshift(name)
    const gone = superfluous(versions)
    if (gone.length === 0) return
    for (const old of gone) await disk.remove(join(place, old))
    known.set(
      place,
      versions.filter(version => !gone.includes(version)),
    )
  }

  async function read<K extends Kind>(kind: K, id: string): Promise<Documents[K] | null> {
    const text = await textOf(kind, id)
    if (text === null) return null
    const path = fileOf(kind, id)
    try {
      return documentOf(kind, id, text, path)
    } catch (error) {
      // A file of a newer Glowchart is whole: an older version in its place would lose work.
      if (!(error instanceof CodedError) || error.code === 'document.newer') throw error
      return recovered(kind, id, error)
    }
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
    const place = versionsOf(kind, id)
    for (const version of await knownVersions(kind, id)) {
      const path = join(place, version)
      const text = await disk.read(path).catch(() => null)
      const document = text === null ? null : tried(() => documentOf(kind, id, text, path))
      if (!document) continue
      const aside = join(folder, 'damaged', `${kind}-${id}-${versionName(now())}`)
      await disk.makeFolder(join(folder, 'damaged'))
      await disk.keep(fileOf(kind, id), aside)
      await disk.syncFolder(join(folder, 'damaged'))
      await replaceFile(disk, folderOf(kind), `${id}.json`, text!)
      const says =
        `the file is damaged (${fault.message}); the version replaced on ${new Date(versionTime(version)).toISOString()} ` +
        `was opened instead, and the damaged file is kept as ${aside}`
      notices.push(problem('file.damaged', says, fault.where))
      return document
    }
    throw fault
  }

  return {
    folder,
    notices,
    textOf,

    async shows() {
      const names = await disk.list(folderOf('show'))
      const ids = names.filter(name => name.endsWith('.json')).map(name => name.slice(0, -5))
      const entries = ids
        .filter(id => idSchema.safeParse(id).success)
        .sort()
        .map(async (id): Promise<ShowEntry> => {
          try {
            const path = fileOf('show', id)
            return { id, name: documentOf('show', id, (await textOf('show', id)) ?? '', path).name }
          } catch (error) {
            if (!(error instanceof CodedError)) throw error
            return { id, name: id, problem: error.problem }
          }
        })
      return Promise.all(entries)
    },

    async load(showId) {
      const show = idSchema.safeParse(showId).success ? await read('show', showId) : null
      if (!show) throw new CodedError('show.unknown', `there is no show "${showId}"`, folderOf('show'))
      const rig = await read('rig', show.rig)
      if (rig) return { rig, show }
      throw new CodedError(
        'document.rig',
        `rig: there is no rig "${show.rig}"`,
        `${fileOf('show', showId)}: rig`,
      )
    },

    async save(documents) {
      try {
        for (const kind of kinds) {
          const document = documents[kind]
          if (!document) continue
          await keepVersion(kind, document.id)
          await replaceFile(disk, folderOf(kind), `${document.id}.json`, write(document))
        }
      } catch (error) {
        throw unwritable(error)
      }
    },

    async lastOpen() {
      const text = await disk.read(join(folder, 'open')).catch(() => '')
      const [show = '', session = ''] = text.trim().split(' ')
      const there = idSchema.safeParse(show).success && (await textOf('show', show)) !== null
      return there ? { show, session } : null
    },

    async rememberOpen(show, session) {
      await replaceFile(disk, folder, 'open', `${show} ${session}\n`).catch(() => {})
    },

    close: unlock,
  }
}

function tried<T>(read: () => T): T | null {
  try {
    return read()
  } catch {
    return null
  }
}
