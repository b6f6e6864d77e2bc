// Bench: what an acknowledged edit costs on shows of 2000 and of 10,000 cues: in the journal, and as a whole file each.

import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { nodeDisk, replaceFile } from '@glowchart/server/app/disk.ts'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { startEditing } from '@glowchart/server/app/editing.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import { figure, ratio, table, within } from './figures.ts'

const EDITS = 100
const WARM_UP = 10
const SONGS = 10

/** The sample show with ten songs more, which share the cues. */
function longShow(cues: number): Documents {
  let documents = sampleDocuments()
  const spacing = Math.floor((100 * 3840 * SONGS) / cues)
  const { light } = documents.show.songs.kettle!.sections.verse!.cues.v2!
  for (let n = 0; n < SONGS; n++) {
    const song = `song${n}`
    const first = { section: 'a', sectionName: 'A', bars: 100 }
    const begun = { song, title: song, bpm: 120, meter: { beats: 4, unit: 4 }, ...first }
    documents = applyEdit(documents, 'addSong', begun).next
    documents = applyEdit(documents, 'addTrack', { song, track: 't', part: 'tubes' }).next
    const added = Array.from({ length: cues / SONGS }, (_, i) => [
      `cue-${n}-${i}`,
      { track: 't', at: i * spacing, length: spacing - 20, light, fadeIn: { length: 240 } },
    ])
    documents = applyEdit(documents, 'addCues', { song, section: 'a', cues: Object.fromEntries(added) }).next
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

/** What one size of show costs, as a section of the report. */
async function measured(cues: number): Promise<string> {
  const documents = longShow(cues)
  const text = canonicalText(documents.show)
  const folder = mkdtempSync(join(tmpdir(), 'glowchart-bench-'))
  try {
    const store = await openDocuments(folder)
    await store.save(documents)
    const loaded = await store.load(documents.show.id)
    const editing = startEditing(store, loaded)
    const moved = [loaded, applyEdit(loaded, 'moveCues', move(0)).next]
    const edit = (i: number) => editing.edit('bench', 'moveCues', move(i))
    const rows: [string, number[]][] = [
      ['plain durable write of the file', await times(() => replaceFile(nodeDisk, folder, 'plain', text))],
      ['applied and validated in memory', await times(i => applyEdit(loaded, 'moveCues', move(i)))],
      ['before: the whole file, with its version', await times(i => store.save(moved[i % 2]!))],
      ['acknowledged, one after the other', await times(edit)],
    ]
    // The files follow when nothing comes for a second; here they are made to, after each edit.
    const following: number[] = []
    for (let i = 0; i < 25; i++) {
      await edit(i)
      const before = performance.now()
      await store.settle()
      following.push(performance.now() - before)
    }
    rows.push(['the files following, after an edit', following])
    const before = performance.now()
    await Promise.all(Array.from({ length: EDITS }, (_, i) => edit(i)))
    const together = (performance.now() - before) / EDITS
    await store.close()
    const baseline = within(rows[0]![1], 0.5)
    const lines = rows.map(([name, taken]) => [
      name,
      figure(within(taken, 0.5)),
      figure(within(taken, 0.99)),
      ratio(within(taken, 0.5), baseline),
    ])
    return `### ${cues} cues, a file of ${(text.length / 1024).toFixed(0)} KiB

${EDITS} edits at once: ${figure(together)} ms each.

${table(['', 'p50, ms', 'p99, ms', '/ plain write'], lines)}`
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

const sections: string[] = []
for (const cues of [2000, 10_000]) sections.push(await measured(cues))
console.log(`## Acknowledged edits

${EDITS} times a cue is moved. An edit is acknowledged once its line is in the journal and forced to the disk; edits that wait
together share a line; the whole files follow when no edit has come for a second. Before, every edit waited for the whole file
and the file before it kept as a version: that is measured in the same run. Baseline: the same bytes written, forced to the disk
and renamed.

${sections.join('\n\n')}`)
