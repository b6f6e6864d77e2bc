// A process that edits a data folder without end, and says each edit on stdout once it is acknowledged.

import { writeSync } from 'node:fs'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { startEditing } from '@glowchart/server/app/editing.ts'

const store = await openDocuments(process.argv[2]!)
const editing = startEditing(store, await store.load('moth-cabinet'))
const before = Number.parseInt(editing.documents.show.songs.kettle!.title, 10)
let n = Number.isNaN(before) ? 0 : before
for (;;) {
  const title = String(++n)
  await editing.edit('child', 'renameSong', { song: 'kettle', title })
  writeSync(1, `${title}\n`)
}
