// The documents: the rig and the show that are open, changed only by edits, each durable before it is acknowledged.

import { copyFile, mkdir, readdir, readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { Bundle } from '@glowchart/shared/show/bundle.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import { type Applied, applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import { parseJson } from '@glowchart/shared/show/json.ts'
import { writeDurably } from './files.ts'
import { lockFolder } from './lock.ts'
import { type Versions, versionsOf } from './versions.ts'

/** Edits that can be taken back, as long as the server runs. */
const MOST_REMEMBERED = 10_000

export interface Done {
  readonly revision: number
  readonly by: string
  /** The edit's name; `undo` for one taken back. */
  readonly edit: string
  readonly applied: Applied
}

export interface DocumentStore {
  readonly rig: Bundle['rig']
  readonly show: Bundle['show']
  readonly revision: number
  /** What was found damaged at the start, and what was opened instead. */
  readonly notices: readonly string[]
  /** Applies an edit; resolves once it is on the disk. @throws CodedError, and nothing has changed */
  edit(by: string, name: string, args: unknown): Promise<Done>
  /** Takes back (or does again) an edit of the same hand. @throws CodedError `edit.conflict` and others */
  undo(by: string, revision: number): Promise<Done>
  /** Puts a bundle in place of the open documents; the earlier ones stay as versions. */
  replace(bundle: Bundle): Promise<void>
  /** Called after each edit, in order of revision, before its promise resolves. */
  onDone(listener: (done: Done) => void): void
  onReplaced(listener: () => void): void
  close(): Promise<void>
}

interface Place {
  readonly path: string
  readonly versions: Versions
}

/**
 * Opens a data folder, and puts `first` into it when no show of that id is there yet.
 * @throws CodedError `data.locked`, `data.unwritable`, or `document.*`/`file.*` when nothing in it can be read
 */
export async function openDocuments(dataFolder: string, first?: Bundle): Promise<DocumentStore> {
  const folder = (name: string): string => join(dataFolder, name)
  const placeOf = (kind: 'rigs' | 'shows', id: string): Place => {
    const path = join(folder(kind), `${id}.json`)
    return { path, versions: versionsOf(path, join(folder('versions'), kind)) }
  }
  await Promise.all(
    ['rigs', 'shows', 'versions'].map(name => mkdir(folder(name), { recursive: true })),
  ).catch(error => {
    throw new CodedError('data.unwritable', (error as Error).message, dataFolder)
  })
  const unlock = lockFolder(dataFolder)
  const notices: string[] = []

  async function load<T>(place: Place, parse: (value: unknown, where: string) => T): Promise<T> {
    const read = (text: string, path: string): T => parse(parseJson(text, path), path)
    try {
      return read(await readFile(place.path, 'utf8'), place.path)
    } catch (error) {
      if (!(error instanceof CodedError)) throw error
      const good = await place.versions.newest(read)
      if (!good) throw error
      const aside = `${place.path}.damaged-${Date.now()}`
      await copyFile(place.path, aside)
      notices.push(
        `${place.path} is damaged (${error.message}). It is kept as ${aside}; opened instead: ${good.path}.`,
      )
      return good.value
    }
  }
  const exists = (path: string): Promise<boolean> =>
    stat(path).then(
      () => true,
      () => false,
    )
  const save = async (place: Place, document: unknown): Promise<void> => {
    await place.versions.keep()
    await writeDurably(place.path, canonicalText(document))
  }
  const newestShow = async (): Promise<string | null> => {
    const files = (await readdir(folder('shows'))).filter(name => name.endsWith('.json'))
    const times = await Promise.all(
      files.map(async name => ({ name, at: (await stat(join(folder('shows'), name))).mtimeMs })),
    )
    return times.sort((a, b) => b.at - a.at)[0]?.name.replace(/\.json$/, '') ?? null
  }

  try {
    if (first) {
      // A repaired box is repaired for every band: an owned rig is never overwritten by the one in the file.
      const rigPlace = placeOf('rigs', first.rig.id)
      const showPlace = placeOf('shows', first.show.id)
      if (!(await exists(rigPlace.path))) await writeDurably(rigPlace.path, canonicalText(first.rig))
      if (!(await exists(showPlace.path))) await writeDurably(showPlace.path, canonicalText(first.show))
    }
    const id = first?.show.id ?? (await newestShow())
    if (id === null)
      throw new CodedError('file.missing', 'there is no show in the data folder yet', dataFolder)
    let showPlace = placeOf('shows', id)
    let show = await load(showPlace, parseShow)
    let rigPlace = placeOf('rigs', show.rig)
    let rig = await load(rigPlace, parseRig)

    let revision = 0
    const remembered = new Map<number, Done>()
    const doneListeners: ((done: Done) => void)[] = []
    const replacedListeners: (() => void)[] = []
    /** One change at a time, in the order they came. */
    let queue: Promise<unknown> = Promise.resolve()
    const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
      const turn = queue.then(work)
      queue = turn.catch(() => {})
      return turn
    }

    const commit = async (by: string, edit: string, applied: Applied): Promise<Done> => {
      const { document, next } = applied
      if (applied.diff.length > 0) {
        await save(document === 'show' ? showPlace : rigPlace, next[document]).catch(error => {
          throw new CodedError('edit.notSaved', (error as Error).message, document)
        })
      }
      rig = next.rig
      show = next.show
      const done: Done = { revision: ++revision, by, edit, applied }
      remembered.set(done.revision, done)
      if (remembered.size > MOST_REMEMBERED) remembered.delete(remembered.keys().next().value!)
      for (const listener of doneListeners) listener(done)
      return done
    }

    return {
      get rig() {
        return rig
      },
      get show() {
        return show
      },
      get revision() {
        return revision
      },
      notices,
      edit: (by, name, args) =>
        inTurn(() => Promise.resolve(applyEdit({ rig, show }, name, args)).then(a => commit(by, name, a))),
      undo: (by, of) =>
        inTurn(async () => {
          const done = remembered.get(of)
          if (!done) throw new CodedError('edit.forgotten', `edit ${of} is not remembered`, `revision ${of}`)
          if (done.by !== by)
            throw new CodedError('edit.notYours', `edit ${of} is somebody else's`, `revision ${of}`)
          return commit(by, 'undo', takeBack({ rig, show }, done.applied))
        }),
      replace: bundle =>
        inTurn(async () => {
          const places = { rig: placeOf('rigs', bundle.rig.id), show: placeOf('shows', bundle.show.id) }
          await save(places.rig, bundle.rig)
          await save(places.show, bundle.show)
          rigPlace = places.rig
          showPlace = places.show
          rig = bundle.rig
          show = bundle.show
          revision++
          remembered.clear()
          for (const listener of replacedListeners) listener()
        }),
      onDone: listener => void doneListeners.push(listener),
      onReplaced: listener => void replacedListeners.push(listener),
      async close() {
        await queue
        unlock()
      },
    }
  } catch (error) {
    unlock()
    throw error
  }
}
