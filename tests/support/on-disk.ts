// What a server that starts now would find in a data folder: a document's file, with the edits that only the journal has yet.

import { readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { type Kind, readJournal } from '@glowchart/server/app/journal.ts'
import { journalled, replay } from '@glowchart/server/app/replay.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'

/** The text of a document; without an id, of the first of its kind. A server may be writing meanwhile. */
export function textOnDisk(data: string, kind: Kind, id = firstOf(data, kind)): string {
  for (;;) {
    const path = join(data, `${kind}s`, `${id}.json`)
    const before = journalText(data)
    const text = readFileSync(path, 'utf8')
    // Something was written between the two: look again.
    if (journalText(data) !== before) continue
    const { entries } = readJournal(before)
    if (journalled(entries, kind) !== id) return text
    const value = replay(entries, kind, text, path)
    return value === null ? text : canonicalText(value)
  }
}

function firstOf(data: string, kind: Kind): string {
  const names = readdirSync(join(data, `${kind}s`)).filter(name => /^[^.].*\.json$/.test(name))
  return basename(names[0]!, '.json')
}

function journalText(data: string): string {
  try {
    return readFileSync(join(data, 'edits.journal'), 'utf8')
  } catch {
    return ''
  }
}
