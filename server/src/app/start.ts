// Starts the app: documents opened, routes built, the port taken; one place that ends it all again.

import type { AddressInfo } from 'node:net'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { Bundle } from '@glowchart/shared/show/bundle.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { openAccess } from '../access/access.ts'
import { adoptShows } from './adopting.ts'
import { buildApp } from './app.ts'
import { type DocumentStore, openDocuments } from './documents.ts'
import { startEditing } from './editing.ts'
import type { EngineLink } from './engine-link.ts'
import { type Guard, guard as ourGuard } from './guard.ts'
import { noteNight } from './night-notes.ts'
import { openShowVersion } from './show-version.ts'
import { noSupervisor, type SupervisorLink } from './supervisor-link.ts'
import { versionFiles } from './version-files.ts'

export interface StartOptions {
  dataFolder: string
  /** 0: any free port. Loopback only. */
  port: number
  pageFolder: string
  engine: EngineLink & { close(): void }
  /** Left out: nobody looks after this app. */
  supervisor?: SupervisorLink
  /** Taken into the data folder when it is not there yet, and opened; not asked by an app that is started again. */
  first: (() => Promise<Bundle>) | undefined
  /** Another one only in tests that show what ours keeps out. */
  guard?: Guard
  /** Ms since 1970, for the waits between tries of the PIN. */
  now?: () => number
}

/** @throws CodedError `data.*`, `file.*`, `document.*`, or `request.port` when the port is taken */
export async function startApp(
  options: StartOptions,
): Promise<{ url: string; notices: readonly string[]; close(): Promise<void> }> {
  const { dataFolder, port, pageFolder, engine, first } = options
  const { guard = ourGuard, supervisor = noSupervisor, now = Date.now } = options
  const session = String(process.ppid)
  const store = await openDocuments(dataFolder)
  try {
    const documents = await firstDocuments(store, first, session)
    let remembered = store.rememberOpen(documents.show.id, session)
    await remembered
    const editing = startEditing(store, documents)
    editing.listen({
      applied() {},
      opened() {
        const { id } = editing.documents.show
        remembered = remembered.then(() => store.rememberOpen(id, session))
      },
    })
    const version = await openShowVersion({
      files: versionFiles(dataFolder),
      draft: () => editing.documents,
    })
    const access = await openAccess({ dataFolder, now })
    const endAdopting = adoptShows(store, editing, version, engine)
    const app = await buildApp({ store, editing, version, engine, access, guard, supervisor, pageFolder })
    await listen(app, port)
    await access.start(app)
    noteNight({ supervisor, access, editing, damaged: [...store.notices, ...version.damaged] })
    const { port: taken } = app.server.address() as AddressInfo
    return {
      url: `http://localhost:${taken}`,
      notices: [
        ...[...store.notices, ...version.damaged].map(({ where, message }) => `${where}: ${message}`),
        ...(access.notice === '' ? [] : [access.notice]),
      ],
      async close() {
        access.close()
        await app.close()
        endAdopting()
        engine.close()
        await editing.close()
        await remembered
        await store.close()
      },
    }
  } catch (error) {
    await store.close()
    throw error
  }
}

async function listen(app: Awaited<ReturnType<typeof buildApp>>, port: number): Promise<void> {
  try {
    await app.listen({ host: '127.0.0.1', port })
  } catch (error) {
    await app.close()
    if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error
    throw new CodedError('request.port', `port ${port} is taken`, `127.0.0.1:${port}`)
  }
}

async function firstDocuments(
  store: DocumentStore,
  first: StartOptions['first'],
  session: string,
): Promise<Documents> {
  const last = await store.lastOpen()
  // An app that its supervisor started again opens what was open, and not what the command line named hours ago: the
  // stick with that file may have been pulled out since.
  if (last?.session === session) return store.load(last.show)
  const bundle = await first?.()
  if (bundle) {
    // A repaired box is repaired for every band: an owned rig is never overwritten by the one in the file.
    const owned = await store.textOf('rig', bundle.rig.id)
    if (owned === null) await store.save({ rig: bundle.rig })
    if ((await store.textOf('show', bundle.show.id)) === null) await store.save({ show: bundle.show })
  }
  const [any] = await store.shows()
  const id = bundle?.show.id ?? last?.show ?? any?.id
  if (id === undefined) {
    throw new CodedError('show.unknown', 'there is no show in the data folder yet', store.folder)
  }
  return store.load(id)
}
