// One round with the plug pulled: edits at random on a disk that loses what was not synced, some lives long, each cut off anywhere.

import { openDocuments } from '@glowchart/server/app/documents.ts'
import { type Editing, startEditing } from '@glowchart/server/app/editing.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { canonicalText, canonicalWriter } from '@glowchart/shared/show/canonical.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { losses, type PlugDisk, plugDisk } from '../app/plug-disk.ts'
import { randomEdit } from '../show/random-edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import { random } from '../support/random.ts'

const SHOW = 'moth-cabinet'
const LIVES = 3
/** A life is cut off after at most so many operations of the disk. */
const MOST_OPERATIONS = 160

export interface RoundFigures {
  acknowledged: number
  /** Edits that nobody had been promised, and that were there all the same. */
  beyond: number
  cuts: number
  versions: number
}

/**
 * @param folder an empty folder, for the lock alone
 * @param spoil makes a worse disk of one, to see that the round notices
 * @throws Error that says what was lost; the seed gives the same round again
 */
export async function powerRound(
  seed: number,
  folder: string,
  spoil: (disk: PlugDisk) => void = () => {},
): Promise<RoundFigures> {
  const next = random(seed)
  const figures: RoundFigures = { acknowledged: 0, beyond: 0, cuts: 0, versions: 0 }
  const write = canonicalWriter()
  const kindsOf = ({ rig, show }: Documents): string[] => [write(rig), write(show)]
  let disk = await seeded(folder)
  /** All that the documents may be: the last that was acknowledged, and those asked for after it. */
  let possible: Documents[] = [sampleDocuments()]
  const ever = new Set(kindsOf(sampleDocuments()))
  for (let life = 0; life < LIVES; life++) {
    spoil(disk)
    disk.failAfter = Math.floor(next() * MOST_OPERATIONS)
    try {
      const store = await openDocuments(folder, { disk, now: () => Date.parse('2031-05-04T18:00:00Z') })
      try {
        possible = [foundAmong(await store.load(SHOW))]
        const editing = startEditing(store, possible[0]!)
        await live(editing, () => store.settle())
      } finally {
        await store.close()
      }
    } catch (error) {
      if (!(error instanceof CodedError) || !error.message.includes('the power is gone')) throw error
    }
    const lost = next() < 0.6 ? 'mixed' : losses[Math.floor(next() * losses.length)]!
    figures.cuts++
    disk = disk.afterPowerCut(lost, next)
  }
  await look()
  return figures

  /** Edits, alone and many at once, with rests in which the files are written, until the power is gone. */
  async function live(editing: Editing, rest: () => Promise<void>): Promise<void> {
    for (let i = 0; i < 30; i++) {
      const answers: Promise<unknown>[] = []
      for (let n = next() < 0.7 ? 1 : Math.floor(next() * 6); n > 0; n--) answers.push(edit(editing))
      await Promise.all(answers)
      if (next() < 0.15) await rest()
    }
  }

  async function edit(editing: Editing): Promise<void> {
    const before = possible.at(-1)!
    const { name, args } = randomEdit(before, next, Math.floor(next() * 1e9))
    let after: Documents
    try {
      const applied = applyEdit(before, name, args)
      if (applied.diff.length === 0) return
      after = applied.next
    } catch {
      // Not possible here; the server says so too.
      return
    }
    possible.push(after)
    for (const text of kindsOf(after)) ever.add(text)
    await editing.edit('round', name, args)
    figures.acknowledged++
    possible = possible.slice(possible.indexOf(after))
  }

  function foundAmong(found: Documents): Documents {
    const text = kindsOf(found).join()
    const at = possible.findIndex(documents => kindsOf(documents).join() === text)
    if (at < 0) throw new Error(`an acknowledged edit is lost: the documents are none of ${possible.length}`)
    figures.beyond += at
    return possible[at]!
  }

  /** Everything on the disk once the power is back for good. */
  async function look(): Promise<void> {
    const store = await openDocuments(folder, { disk })
    try {
      foundAmong(await store.load(SHOW))
      for (const path of disk.paths()) {
        if (!/\/(shows|rigs)\/.*(?<!\.new)\.json$/.test(path)) continue
        const text = disk.peek(path)
        const document = (path.includes('/rigs/') ? parseRig : parseShow)(JSON.parse(text), path)
        if (!ever.has(canonicalText(document))) throw new Error(`${path} never was`)
        if (path.includes('/versions/')) figures.versions++
      }
    } finally {
      await store.close()
    }
    if (!disk.paths().some(path => path.includes('/versions/shows/'))) return
    // An earlier version takes the place of a file that is damaged.
    disk.poke(`${folder}/shows/${SHOW}.json`, '{"half')
    const again = await openDocuments(folder, { disk })
    try {
      const { show } = await again.load(SHOW)
      if (!ever.has(canonicalText(show)) || again.notices[0]?.code !== 'file.damaged')
        throw new Error('no earlier version was restored')
    } finally {
      await again.close()
    }
  }
}

let first: PlugDisk | undefined
async function seeded(folder: string): Promise<PlugDisk> {
  // Paths hold the folder's name, which is another one in each run.
  if (!first?.paths()[0]?.startsWith(folder)) {
    const disk = plugDisk()
    const store = await openDocuments(folder, { disk })
    await store.save(sampleDocuments())
    await store.close()
    first = disk.afterPowerCut('all')
  }
  return first.afterPowerCut('all')
}
