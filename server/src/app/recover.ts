// After a server that was not ended: the edits in its journal are put into the files, or kept aside where they do not fit.

import { type Problem, problem } from '@glowchart/shared/errors.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { type DocumentFiles, kinds } from './document-files.ts'
import { type FoundJournal, hashOf, type Journal, type Kind } from './journal.ts'
import { journalled, replay } from './replay.ts'

interface Recovery {
  journal: Journal
  files: DocumentFiles
  notices: Problem[]
}

/** When it resolves, there is no journal any more. May be broken off at any place, and begun again. */
export async function recoverJournal({ journal, files, notices }: Recovery): Promise<void> {
  const found = await journal.resume()
  if (!found) return
  const after: { kind: Kind; id: string; text: string }[] = []
  const faults: string[] = found.damaged ? ['a line in it cannot be read'] : []
  for (const kind of kinds) {
    try {
      const id = journalled(found.entries, kind)
      const text = id === null ? null : await afterJournal(found, kind, id, files)
      if (id !== null && text !== null) after.push({ kind, id, text })
    } catch (error) {
      faults.push(`${kind}: ${(error as Error).message}`)
    }
  }
  if (faults.length > 0) {
    const aside = await files.keepTextAside(found.text, 'damaged', 'edits')
    const says = `not all edits made before the server ended could be put into the files (${faults.join('; ')}); they are kept as ${aside}`
    notices.push(problem('file.journal', says, journal.path))
  }
  if (after.length > 0) {
    const state = after.map(({ kind, id, text }) => [kind, { id, hash: hashOf(text) }])
    await journal.append({ files: Object.fromEntries(state) })
    for (const { kind, id, text } of after) await files.write(kind, id, text)
  }
  await journal.remove()
}

/** Null when the file holds all of it. */
async function afterJournal(
  { entries }: FoundJournal,
  kind: Kind,
  id: string,
  files: DocumentFiles,
): Promise<string | null> {
  const value = replay(entries, kind, await files.take(kind, id), files.fileOf(kind, id))
  if (value === null) return null
  // As the Glowchart that kept the edits would have written it: whoever reads it brings it up to date.
  const text = canonicalText(value)
  files.documentOf(kind, id, text)
  return text
}
