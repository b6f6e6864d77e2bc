// What an acknowledged edit costs on a show of 2000 cues: in memory, written to the disk, and in a queue.
// Run: node --import tsx tests/bench/edits.ts

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

const EDITS = 300

function withCues(count: number): Documents {
  let documents = sampleDocuments()
  const args = (song: string) => ({ song, title: song, bpm: 120, meter: { beats: 4, unit: 4 } })
  for (let n = 0; n < 10; n++) {
    const song = `song${n}`
    const first = { section: 'a', sectionName: 'A', bars: 100 }
    documents = applyEdit(documents, 'addSong', { ...args(song), ...first }).next
    documents = applyEdit(documents, 'addTrack', { song, track: 't', part: 'tubes' }).next
    const { light } = documents.show.songs.kettle!.sections.verse!.cues.v2!
    const cues = Array.from({ length: count / 10 }, (_, i) => [
      `cue-${n}-${i}`,
      { track: 't', at: i * 1920, length: 1900, light, fadeIn: { length: 240 } },
    ])
    documents = applyEdit(documents, 'addCues', { song, section: 'a', cues: Object.fromEntries(cues) }).next
  }
  return documents
}

function report(name: string, times: number[]): void {
  times.sort((a, b) => a - b)
  const at = (share: number): string => times[Math.floor(share * (times.length - 1))]!.toFixed(2).padStart(8)
  console.log(`${name.padEnd(44)} p50 ${at(0.5)}  p99 ${at(0.99)}  max ${at(1)} ms`)
}

async function timed(count: number, work: (i: number) => unknown): Promise<number[]> {
  const times: number[] = []
  for (let i = -20; i < count; i++) {
    const before = performance.now()
    await work(i + 20)
    if (i >= 0) times.push(performance.now() - before)
  }
  return times
}

const documents = withCues(2000)
const text = canonicalText(documents.show)
console.log(`show: 2000 cues, ${(text.length / 1024).toFixed(0)} KiB as a file`)

const move = (i: number) => ({
  song: `song${i % 10}`,
  cues: [{ section: 'a', cue: `cue-${i % 10}-5` }],
  by: i % 2 ? 1 : -1,
})
const folder = mkdtempSync(join(tmpdir(), 'glowchart-bench-'))
try {
  const store = await openDocuments(folder)
  await store.save(documents)
  report(
    'plain write of the same bytes, fsync, rename',
    await timed(EDITS, () => replaceFile(nodeDisk, folder, 'bare', text)),
  )
  report(
    'applied and validated in memory',
    await timed(EDITS, i => applyEdit(documents, 'moveCues', move(i))),
  )
  report('canonical text', await timed(EDITS, () => canonicalText(documents.show)))
  const editing = startEditing(store, documents)
  report(
    'acknowledged, one after the other',
    await timed(EDITS, i => editing.edit('me', 'moveCues', move(i))),
  )
  const before = performance.now()
  await Promise.all(Array.from({ length: EDITS }, (_, i) => editing.edit('me', 'moveCues', move(i))))
  console.log(
    `${EDITS} edits that wait together: ${((performance.now() - before) / EDITS).toFixed(2)} ms each`,
  )
  store.close()
} finally {
  rmSync(folder, { recursive: true, force: true })
}
