// The show that is open: edits in one queue, each acknowledged once it is durable, and taken back by who made it.

import { CodedError } from '@glowchart/shared/errors.ts'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { type Applied, applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import type { DocumentStore } from './documents.ts'

/** How many edits can be taken back. */
const MOST_REMEMBERED = 2000

export type AppliedMessage = Extract<AppMessage, { type: 'applied' }>

export interface EditingListener {
  /** Edits that became durable together, in order of revision; called before they are acknowledged. */
  applied(edits: readonly AppliedMessage[]): void
  /** So many edits could not be saved, and why; called before they are refused. */
  refused?(edits: number, why: string): void
  /** Another show is open, or the same one is replaced: whatever was known of it is void. */
  opened(): void
}

export interface Editing {
  /** As they are on disk: in their files, or in the journal beside them. */
  readonly documents: Documents
  /** Counts up by one with every edit and every opening, from 1 when the server starts. */
  readonly revision: number
  /**
   * Applies an edit. Resolves with its revision once it is durable, with null when it changes nothing.
   * @throws CodedError `edit.*`; nothing is changed
   */
  edit(by: string, name: string, args: unknown): Promise<number | null>
  /** Takes back an edit by its revision, as an edit of its own. @throws CodedError `edit.*` */
  undo(by: string, revision: number): Promise<number | null>
  /**
   * Opens other documents, once the edits that wait are durable. `make` gives them; when it rejects, nothing changes.
   */
  open(make: () => Promise<Documents>): Promise<void>
  listen(listener: EditingListener): void
  /** Resolves when nothing waits to be written any more. */
  close(): Promise<void>
}

interface Waiting {
  readonly message: AppliedMessage
  readonly applied: Applied
  resolve(revision: number): void
  reject(error: unknown): void
}

export function startEditing(store: DocumentStore, first: Documents): Editing {
  const listeners: EditingListener[] = []
  const remembered = new Map<number, { by: string; applied: Applied }>()
  let durable = first
  let revision = 1
  /** With the edits that are not durable yet. */
  let newest = first
  let newestRevision = 1
  let waiting: Waiting[] = []
  let writing: Promise<void> | null = null
  let opening = false

  function enqueue(by: string, edit: string, apply: () => Applied): Promise<number | null> {
    if (opening) throw new CodedError('edit.conflict', 'another show is being opened', edit)
    const applied = apply()
    if (applied.diff.length === 0) return Promise.resolve(null)
    newest = applied.next
    newestRevision++
    const { document, says, diff } = applied
    const message: AppliedMessage = {
      type: 'applied',
      revision: newestRevision,
      by,
      edit,
      says,
      document,
      diff,
    }
    return new Promise((resolve, reject) => {
      waiting.push({ message, applied, resolve, reject })
      writing ??= writeAll().finally(() => {
        writing = null
      })
    })
  }

  /** Edits that come while others are written wait, and are written together after them. */
  async function writeAll(): Promise<void> {
    while (waiting.length > 0) {
      const batch = waiting
      waiting = []
      const next = batch.at(-1)!.applied.next
      try {
        const edits = batch.map(({ applied }) => applied)
        await store.keep(durable, edits, next)
      } catch (error) {
        // Those that came meanwhile rest on these: they go too.
        const refused = [...batch, ...waiting]
        waiting = []
        newest = durable
        newestRevision = revision
        const why = (error as Error).message
        for (const listener of listeners) listener.refused?.(refused.length, why)
        const says = `the change could not be saved: ${why}`
        for (const one of refused) one.reject(new CodedError('edit.notSaved', says, store.folder))
        return
      }
      durable = next
      revision = batch.at(-1)!.message.revision
      for (const { message, applied } of batch) remember(message, applied)
      for (const listener of listeners) listener.applied(batch.map(one => one.message))
      for (const one of batch) one.resolve(one.message.revision)
    }
  }

  function remember({ revision, by }: AppliedMessage, applied: Applied): void {
    remembered.set(revision, { by, applied })
    const [oldest] = remembered.keys()
    if (remembered.size > MOST_REMEMBERED) remembered.delete(oldest!)
  }

  return {
    get documents() {
      return durable
    },
    get revision() {
      return revision
    },

    async edit(by, name, args) {
      return enqueue(by, name, () => applyEdit(newest, name, args))
    },

    async undo(by, which) {
      const done = remembered.get(which)
      if (!done)
        throw new CodedError('edit.forgotten', `edit ${which} is not remembered`, `revision ${which}`)
      if (done.by !== by) {
        throw new CodedError(
          'edit.notYours',
          `"${done.applied.says}" was done by somebody else`,
          `revision ${which}`,
        )
      }
      return enqueue(by, 'undo', () => takeBack(newest, done.applied))
    },

    async open(make) {
      if (opening) throw new CodedError('edit.conflict', 'another show is being opened', store.folder)
      opening = true
      try {
        await writing
        durable = newest = await make()
        revision = newestRevision = revision + 1
        remembered.clear()
      } finally {
        opening = false
      }
      for (const listener of listeners) listener.opened()
    },

    listen(listener) {
      listeners.push(listener)
    },

    async close() {
      await writing
    },
  }
}
