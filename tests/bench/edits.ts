// Bench: what an acknowledged edit costs on a show of 2000 cues, against a plain durable write of the same bytes.

import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { nodeDisk, replaceFile } from '@glowchart/server/app/disk.ts'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { startEditing } from '@glowchart/server/app/editing.ts'
import { canonicalText, canonicalWriter } from '@glowchart/shared/show/canonical.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import { figure, ratio, table, within } from './figures.ts'

const EDITS = 300
const WARM_UP = 20
const SONGS = 10
const CUES = 2000

/** The sample show with ten songs more, which share the cues. */
function longShow(): Documents {
  let documents = sampleDocuments()
  const { light } = documents.show.songs.kettle!.sections.verse!.cues.v2!
  for (let n = 0; n < SONGS; n++) {
    const song = `song${n}`
    const first = { section: 'a', sectionName: 'A', bars: 100 }
    const added = { song, title: song, bpm: 120, meter: { beats: 4, unit: 4 }, ...first }
    documents = applyEdit(documents, 'addSong', added).next
    documents = applyEdit(documents, 'addTrack', { song, track: 't', part: 'tubes' }).next
    const cues = Array.from({ length: CUES / SONGS }, (_, i) => [
      `cue-${n}-${i}`,
      { track: 't', at: i * 1920, length: 1900, light, fadeIn: { length: 240 } },
    ])
    documents = applyEdit(documents, 'addCues', { song, section: 'a', cues: Object.fromEntries(cues) }).next
  }
  return documents
}

async function times(work: (i: number) => unknown): Promise<number[]> {
  const taken: number[] = []
  for (let i = 0; i < WARM_UP + EDITS; i++) {
    const before = performance.now()
    await work(i)
    if (i >= WARM_UP) taken.push(performance.now() - before)
  }
  return taken
}

/** Moves a cue of one of the songs a tick on, the next time round a tick back. */
const move = (i: number) => {
  const n = i % SONGS
  const by = Math.floor(i / SONGS) % 2 === 0 ? 1 : -1
  return { song: `song${n}`, cues: [{ section: 'a', cue: `cue-${n}-5` }], by }
}

const documents = longShow()
const text = canonicalText(documents.show)
const folder = mkdtempSync(join(tmpdir(), 'glowchart-bench-'))
try {
  const store = await openDocuments(folder)
  await store.save(documents)
  const editing = startEditing(store, documents)
  const write = canonicalWriter()
  const moved = [documents, applyEdit(documents, 'moveCues', move(0)).next]
  const edit = (i: number) => editing.edit('bench', 'moveCues', move(i))
  const rows: [string, number[]][] = [
    ['plain durable write', await times(() => replaceFile(nodeDisk, folder, 'plain', text))],
    ['applied and validated in memory', await times(i => applyEdit(documents, 'moveCues', move(i)))],
    ['canonical text, whole', await times(() => canonicalText(documents.show))],
    ['canonical text after an edit', await times(i => write(moved[i % 2]!.show))],
    ['acknowledged, one after the other', await times(edit)],
  ]
  const before = performance.now()
  await Promise.all(Array.from({ length: EDITS }, (_, i) => edit(i)))
  const together = (performance.now() - before) / EDITS
  store.close()
  const baseline = within(rows[0]![1], 0.5)
  const lines = rows.map(([name, taken]) => [
    name,
    figure(within(taken, 0.5)),
    figure(within(taken, 0.99)),
    ratio(within(taken, 0.5), baseline),
  ])
  console.log(`## Acknowledged edits

A show of ${CUES} cues, ${(text.length / 1024).toFixed(0)} KiB as a file; ${EDITS} times a cue is moved. An edit is acknowledged once the whole file is
on the disk under its name; edits that wait together share writes (${EDITS} at once: ${figure(together)} ms each). Baseline: the same bytes
written, forced to the disk and renamed.

${table(['', 'p50, ms', 'p99, ms', '/ plain write'], lines)}`)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
