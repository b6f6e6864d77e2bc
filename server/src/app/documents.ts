// The documents on disk: whole files with earlier versions beside them, and a journal of the edits that they do not hold yet.

import { join } from 'node:path'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import { canonicalWriter } from '@glowchart/shared/show/canonical.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Applied } from '@glowchart/shared/show/edits.ts'
import { id as idSchema } from '@glowchart/shared/show/fields.ts'
import { type Disk, nodeDisk, replaceFile } from './disk.ts'
import { documentFiles, kinds } from './document-files.ts'
import { type FileState, hashOf, journalIn, type Kind } from './journal.ts'
import { lockFolder } from './lock.ts'
import { recoverJournal } from './recover.ts'

/** The whole files are written once no edit has come for so long… */
const IDLE_MS = 1000
/** …or after so many writes to the journal. */
const MOST_LINES = 500

export interface ShowEntry {
  readonly id: string
  /** The id, when the file cannot be read. */
  readonly name: string
  readonly problem?: Problem
}

export interface DocumentStore {
  readonly folder: string
  /** What was found amiss with the files since the store was opened, and what was done about it. */
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
  /** Writes documents as whole files; they are durable when it resolves. @throws CodedError `data.unwritable` */
  save(documents: Partial<Documents>): Promise<void>
  /**
   * Keeps edits that lead from one state of the documents to another; durable when it resolves. The whole files follow.
   * @throws CodedError `data.unwritable`
   */
  keep(
    before: Documents,
    edits: readonly Pick<Applied, 'document' | 'diff'>[],
    after: Documents,
  ): Promise<void>
  /** Writes the edits that were kept into the whole files. @throws CodedError `data.unwritable`; they stay kept */
  settle(): Promise<void>
  /** The show that was open last, and in which session of the server; null when it is not known or gone. */
  lastOpen(): Promise<{ show: string; session: string } | null>
  /** Remembers what is open. It is a hint: nothing is said when it cannot be written. */
  rememberOpen(show: string, session: string): Promise<void>
  /** Settles, as far as the disk lets it, and lets another server at the folder. */
  close(): Promise<void>
}

export interface StoreOptions {
  disk?: Disk
  /** Ms since 1970, to name versions by. */
  now?: () => number
}

/**
 * Opens a data folder (making it if need be) and locks it: `rigs/<id>.json`, `shows/<id>.json`, `edits.journal`,
 * `versions/<kind>s/<id>/<time>.json`, `damaged/`, `replaced/`. Edits that an earlier server had no time to write into
 * the files are in them when it resolves.
 * @throws CodedError `data.locked`, `data.unwritable`
 */
export async function openDocuments(
  folder: string,
  { disk = nodeDisk, now = Date.now }: StoreOptions = {},
): Promise<DocumentStore> {
  const found: Problem[] = []
  const files = documentFiles(folder, { disk, now, notices: found })
  const journal = journalIn(folder, disk)
  const write = canonicalWriter()
  /** What the journal leads to, and how many writes of edits in it the files do not hold yet. */
  let newest: Documents | null = null
  let lines = 0
  let behind: Problem | null = null
  let timer: NodeJS.Timeout | undefined

  const unwritable = (error: unknown): CodedError =>
    error instanceof CodedError
      ? error
      : new CodedError('data.unwritable', `cannot be written: ${(error as Error).message}`, folder)

  try {
    await disk.makeFolder(folder)
    for (const kind of kinds) await disk.makeFolder(files.folderOf(kind))
    await disk.syncFolder(folder)
  } catch (error) {
    throw unwritable(error)
  }
  const unlock = lockFolder(folder)
  try {
    await recoverJournal({ journal, files, notices: found })
  } catch (error) {
    unlock()
    throw unwritable(error)
  }

  /** Everything that writes, one after the other. */
  let last: Promise<unknown> = Promise.resolve()
  function inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = last.then(work)
    last = mine.catch(() => {})
    return mine.catch(error => Promise.reject(unwritable(error)))
  }

  /** Before the files change the journal says what they will hold, so that no edit is ever put into one twice. */
  async function settle(): Promise<void> {
    clearTimeout(timer)
    if (!newest || lines === 0) return
    const texts = { rig: write(newest.rig), show: write(newest.show) }
    const state = {} as Record<Kind, FileState>
    for (const kind of kinds) state[kind] = { id: newest[kind].id, hash: hashOf(texts[kind]) }
    try {
      await journal.append({ files: state })
      for (const kind of kinds) {
        const { id, hash } = state[kind]
        if (files.hashOf(kind, id) !== hash) await files.write(kind, id, texts[kind])
      }
      lines = 0
      behind = null
      await journal.begin({ files: state })
    } catch (error) {
      if (lines > 0) behind = problem('file.behind', (error as Error).message, folder)
      throw error
    }
  }

  async function settleLater(): Promise<void> {
    await inTurn(settle).catch(() => arm())
  }
  function arm(): void {
    clearTimeout(timer)
    timer = setTimeout(settleLater, IDLE_MS).unref()
  }

  async function end(): Promise<void> {
    await settle()
    newest = null
    if (journal.isOpen) await journal.remove()
  }

  async function begin(documents: Documents): Promise<void> {
    await end()
    const state = {} as Record<Kind, FileState>
    for (const kind of kinds) {
      const { id } = documents[kind]
      const text = write(documents[kind])
      // Edits are kept as changes of the file's own text: one of an older version, or by hand, is brought up first.
      if (files.hashOf(kind, id) !== hashOf(text)) await files.write(kind, id, text)
      state[kind] = { id, hash: hashOf(text) }
    }
    await journal.begin({ files: state })
  }

  const textOf: DocumentStore['textOf'] = (kind, id) =>
    inTurn(async () => {
      await settle()
      return files.textOf(kind, id)
    })

  return {
    folder,
    get notices() {
      return behind ? [...found, behind] : found
    },
    textOf,

    async shows() {
      await inTurn(settle).catch(() => {})
      const names = await disk.list(files.folderOf('show'))
      const ids = names.filter(name => name.endsWith('.json')).map(name => name.slice(0, -5))
      const entries = ids
        .filter(id => idSchema.safeParse(id).success)
        .sort()
        .map(async (id): Promise<ShowEntry> => {
          try {
            const text = (await files.textOf('show', id)) ?? ''
            return { id, name: files.documentOf('show', id, text).name }
          } catch (error) {
            if (!(error instanceof CodedError)) throw error
            return { id, name: id, problem: error.problem }
          }
        })
      return Promise.all(entries)
    },

    load: showId =>
      inTurn(async () => {
        await end()
        const show = idSchema.safeParse(showId).success ? await files.read('show', showId) : null
        if (!show)
          throw new CodedError('show.unknown', `there is no show "${showId}"`, files.folderOf('show'))
        const rig = await files.read('rig', show.rig)
        if (rig) return { rig, show }
        throw new CodedError(
          'document.rig',
          `rig: there is no rig "${show.rig}"`,
          `${files.fileOf('show', showId)}: rig`,
        )
      }),

    save: documents =>
      inTurn(async () => {
        await end()
        for (const kind of kinds) {
          const document = documents[kind]
          if (document) await files.write(kind, document.id, write(document))
        }
      }),

    keep: (before, edits, after) =>
      inTurn(async () => {
        const isOpen = newest && kinds.every(kind => newest![kind].id === before[kind].id)
        if (!isOpen || !journal.isOpen) await begin(before)
        await journal.append({ edits: edits.map(({ document, diff }) => ({ document, diff })) })
        newest = after
        lines++
        if (lines < MOST_LINES) arm()
        else setImmediate(settleLater)
      }),

    settle: () => inTurn(settle),

    async lastOpen() {
      const text = await disk.read(join(folder, 'open')).catch(() => '')
      const [show = '', session = ''] = text.trim().split(' ')
      const there = idSchema.safeParse(show).success && (await textOf('show', show)) !== null
      return there ? { show, session } : null
    },

    async rememberOpen(show, session) {
      await replaceFile(disk, folder, 'open', `${show} ${session}\n`).catch(() => {})
    },

    async close() {
      // What cannot be written now stays in the journal for the next start.
      await inTurn(end).catch(() => {})
      clearTimeout(timer)
      unlock()
    },
  }
}
