// Keeps the documents of the laptop that is followed: they become the open show, and what was there is kept as a version.

import { CodedError } from '@glowchart/shared/errors.ts'
import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { DocumentStore } from './documents.ts'
import type { Editing } from './editing.ts'
import type { EngineLink } from './engine-link.ts'
import type { ShowVersion } from './show-version.ts'

/** Returns what ends it. */
export function adoptShows(
  store: DocumentStore,
  editing: Editing,
  version: ShowVersion,
  engine: EngineLink,
): () => void {
  let last = Promise.resolve()

  async function adopt(documents: Documents): Promise<void> {
    // What runs is theirs, whatever was published here.
    if (version.running) await version.ask({ do: 'end', from: version.running.number }, null)
    if (sameValue(editing.documents, documents)) return
    await editing.open(async () => {
      await store.save(documents)
      return documents
    })
    if (version.running) await version.ask({ do: 'end', from: version.running.number }, null)
  }

  return engine.on(message => {
    if (message.type !== 'adopted') return
    const { rig, show } = message
    last = last
      .then(() => adopt({ rig, show }))
      .catch(error => {
        // The engine holds them all the same: the light does not wait for a disk.
        process.stderr.write(`The other laptop's show is not kept: ${(error as Error).message}\n`)
      })
  })
}

/**
 * What is changed on a laptop that follows would be lost with the other one's next version.
 * @throws CodedError `understudy.follows`
 */
export function requireOwnShow(status: EngineStatus | null, what: string): void {
  if (status?.understudy.state !== 'follows') return
  throw new CodedError('understudy.follows', 'this laptop shows the other one’s show', what)
}
