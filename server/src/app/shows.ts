// The shows over HTTP: which there are, opening one, and taking them in and out as bundles.

import { CodedError } from '@glowchart/shared/errors.ts'
import { type Bundle, bundleText, MOST_BUNDLE_BYTES, parseBundle } from '@glowchart/shared/show/bundle.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { FastifyInstance } from 'fastify'
import { keepRecordings, readRecording } from './audio.ts'
import type { DocumentStore } from './documents.ts'
import type { Editing } from './editing.ts'

/**
 * `GET /api/shows`; `GET /api/export[?show=ID]`; `POST /api/open?show=ID`; `POST /api/import[?replace=yes][&file=NAME]`
 * with a bundle's text as body, which opens it. `requireQuiet` throws while nothing may be opened.
 */
export function showRoutes(
  app: FastifyInstance,
  store: DocumentStore,
  editing: Editing,
  requireQuiet: () => void,
): void {
  app.get('/api/shows', async () => ({ open: editing.documents.show.id, shows: await store.shows() }))

  app.get('/api/export', async (request, reply) => {
    const show = named(request.query, 'show')
    const open = editing.documents
    const documents = show === undefined || show === open.show.id ? open : await store.load(show)
    return reply
      .header('content-disposition', `attachment; filename="${documents.show.id}.glowchart.json"`)
      .type('application/json')
      .send(bundleText({ ...documents, audio: await recordingsOf(store.folder, documents.show) }))
  })

  app.post('/api/open', async request => {
    const show = named(request.query, 'show')
    if (show === undefined) throw new CodedError('show.unknown', 'no show is named', 'show')
    requireQuiet()
    await editing.open(() => store.load(show))
    return opened(editing)
  })

  // The text is read by ourselves, for the line and column of what is wrong in it.
  app.removeAllContentTypeParsers()
  app.addContentTypeParser('*', { parseAs: 'string' }, (_request, body, done) => done(null, body))
  app.post('/api/import', async request => {
    const file = named(request.query, 'file') ?? 'the file sent'
    const bundle = parseBundle(typeof request.body === 'string' ? request.body : '', file)
    requireQuiet()
    await editing.open(async () => {
      if (named(request.query, 'replace') !== 'yes') await requireNew(store, bundle)
      // Before the show that names them.
      await keepRecordings(store.folder, bundle.audio ?? {}, file)
      await store.save(bundle)
      return bundle
    })
    return opened(editing)
  })
}

/** Bytes of all recordings that go into one file: with a third more as Base64 it can be read again. */
const MOST_RECORDINGS = Math.floor((MOST_BUNDLE_BYTES * 3) / 4) - 16 * 1024 * 1024

/**
 * The recordings that a show's songs name, as Base64; those that the data folder does not have are left out.
 * @throws CodedError `export.tooLarge`
 */
async function recordingsOf(folder: string, show: Show): Promise<Record<string, string>> {
  const audio: Record<string, string> = {}
  let bytes = 0
  for (const file of new Set(Object.values(show.songs).flatMap(song => song.audio?.file ?? []))) {
    const recording = await readRecording(folder, file)
    if (!recording) continue
    bytes += recording.length
    if (bytes > MOST_RECORDINGS) {
      const most = Math.floor(MOST_RECORDINGS / 1024 / 1024)
      throw new CodedError('export.tooLarge', `its recordings have more than ${most} MiB together`, show.name)
    }
    audio[file] = recording.toString('base64')
  }
  return audio
}

const opened = ({ documents, revision }: Editing) => ({ show: documents.show.id, revision })

/** A text of the query; a name that is there twice is as good as none. */
function named(query: unknown, name: string): string | undefined {
  const value = (query as Record<string, unknown>)[name]
  return typeof value === 'string' ? value : undefined
}

/** @throws CodedError `import.exists` when a show or rig of that id is there and is another */
async function requireNew(store: DocumentStore, bundle: Bundle): Promise<void> {
  for (const kind of ['show', 'rig'] as const) {
    const { id, name } = bundle[kind]
    const there = await store.textOf(kind, id)
    if (there !== null && there !== canonicalText(bundle[kind])) {
      throw new CodedError(
        'import.exists',
        `there is another ${kind} of the id "${id}" already`,
        `${kind} ${name}`,
      )
    }
  }
}
