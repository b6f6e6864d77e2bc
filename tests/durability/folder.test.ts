// What happens to the data folder behind the server's back: files replaced, a journal damaged, a disk full, a second server.

import { execFileSync } from 'node:child_process'
import { cpSync, readdirSync, readFileSync, renameSync, rmSync, statfsSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { startEditing } from '@glowchart/server/app/editing.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'
import { testIf } from '../support/not-run.ts'
import { run, tempFolder } from '../support/processes.ts'

let folder: ReturnType<typeof tempFolder>
beforeEach(() => {
  folder = tempFolder()
})
afterEach(() => folder.remove())

const titled = (title: string): string =>
  canonicalText(applyEdit(sampleDocuments(), 'renameSong', { song: 'kettle', title }).next.show)
const showIn = (data: string): string => join(data, 'shows', 'moth-cabinet.json')
const journalIn = (data: string): string => join(data, 'edits.journal')
const kept = (data: string, place: string): string[] =>
  readdirSync(join(data, place)).map(name => readFileSync(join(data, place, name), 'utf8'))

async function opened(data = folder.path) {
  const store = await openDocuments(data)
  if ((await store.textOf('show', 'moth-cabinet')) === null) await store.save(sampleDocuments())
  const editing = startEditing(store, await store.load('moth-cabinet'))
  const rename = (title: string) => editing.edit('me', 'renameSong', { song: 'kettle', title })
  return { store, editing, rename, title: () => editing.documents.show.songs.kettle!.title }
}

/** The folder as a killed server leaves it, with three edits in the journal that no file holds. */
async function killed(): Promise<ReturnType<typeof tempFolder>> {
  const { store, editing, rename } = await opened()
  await rename('one')
  await rename('two')
  await editing.edit('me', 'renameRig', { name: 'Two vans' })
  const copy = tempFolder()
  cpSync(folder.path, copy.path, { recursive: true, filter: path => !path.endsWith('/lock') })
  await store.close()
  return copy
}

describe('a file that another program changes while the server runs', () => {
  it.each([
    ['in place', (path: string, text: string) => writeFileSync(path, text)],
    [
      'by another file',
      (path: string, text: string) => {
        writeFileSync(`${path}.other`, text)
        renameSync(`${path}.other`, path)
      },
    ],
  ])('is kept aside and named before ours takes its place (%s)', async (_, replace) => {
    const { store, rename } = await opened()
    await rename('Ours')
    await store.settle()
    // An earlier version put back is somebody else's file too.
    const theirs = titled('Theirs')
    replace(showIn(folder.path), theirs)
    await rename('Ours again')
    await store.settle()
    expect(store.notices).toMatchObject([{ code: 'file.replaced', where: showIn(folder.path) }])
    expect(kept(folder.path, 'replaced')).toEqual([theirs])
    expect(store.notices[0]!.message).toContain(readdirSync(join(folder.path, 'replaced'))[0])
    expect(readFileSync(showIn(folder.path), 'utf8')).toBe(titled('Ours again'))
    // Once is enough.
    await rename('And again')
    await store.close()
    expect(store.notices).toHaveLength(1)
  })

  it('is opened as it is when the show is opened again', async () => {
    const { store, editing, rename, title } = await opened()
    await rename('Ours')
    await store.settle()
    writeFileSync(showIn(folder.path), titled('Theirs'))
    await editing.open(() => store.load('moth-cabinet'))
    expect(title()).toBe('Theirs')
    await rename('On from there')
    await store.close()
    expect(store.notices).toEqual([])
  })

  it('and that is laid out by hand is written as ours before the first edit, and kept as a version', async () => {
    const first = await opened()
    await first.store.close()
    const byHand = JSON.stringify(JSON.parse(readFileSync(showIn(folder.path), 'utf8')))
    writeFileSync(showIn(folder.path), byHand)
    const { store, rename } = await opened()
    await rename('Fog')
    await store.close()
    expect(readFileSync(showIn(folder.path), 'utf8')).toBe(titled('Fog'))
    expect(kept(folder.path, 'versions/shows/moth-cabinet')[0]).toBe(byHand)
    expect(store.notices).toEqual([])
  })
})

describe('a start after a kill', () => {
  it('puts the edits of the journal into the files, and leaves no journal', async () => {
    const copy = await killed()
    expect(readFileSync(showIn(copy.path), 'utf8')).toContain('Kettle weather')
    const { store, editing, title } = await opened(copy.path)
    expect(title()).toBe('two')
    expect(editing.documents.rig.name).toBe('Two vans')
    expect(store.notices).toEqual([])
    expect(readdirSync(copy.path)).not.toContain('edits.journal')
    await store.close()
    copy.remove()
  })

  it.each([
    ['was replaced meanwhile', (path: string) => writeFileSync(path, titled('Theirs')), 'Theirs'],
    ['is gone', (path: string) => rmSync(path), 'Kettle weather'],
  ])(
    'leaves a file that %s alone, keeps the edits aside, says so, and applies those of the other file',
    async (_, meddle, then) => {
      const copy = await killed()
      const edits = readFileSync(journalIn(copy.path), 'utf8')
      meddle(showIn(copy.path))
      const { store, editing, title } = await opened(copy.path)
      expect(title()).toBe(then)
      expect(editing.documents.rig.name).toBe(then === 'Theirs' ? 'Two vans' : sampleDocuments().rig.name)
      expect(store.notices).toMatchObject([{ code: 'file.journal', where: journalIn(copy.path) }])
      expect(kept(copy.path, 'damaged')).toEqual([edits])
      await store.close()
      copy.remove()
    },
  )

  it('applies what stands before a line that cannot be read, and keeps the whole journal aside', async () => {
    const copy = await killed()
    const lines = readFileSync(journalIn(copy.path), 'utf8').split('\n')
    // The files, one, two, the rig; and nothing after the last line's end.
    expect(lines).toHaveLength(5)
    lines[2] = lines[2]!.replace('two', 'owt')
    writeFileSync(journalIn(copy.path), lines.join('\n'))
    const { store, title } = await opened(copy.path)
    expect(title()).toBe('one')
    expect(store.notices).toMatchObject([{ code: 'file.journal' }])
    expect(kept(copy.path, 'damaged')).toEqual([lines.join('\n')])
    await store.close()
    copy.remove()
  })

  it.each(['', 'x', 'no journal\n', `${'0'.repeat(16)} {}\n`])(
    'is not kept from starting by a journal that is none (%j)',
    async text => {
      const first = await opened()
      await first.store.close()
      writeFileSync(journalIn(folder.path), text)
      const { store, title } = await opened()
      expect(title()).toBe('Kettle weather')
      await store.close()
    },
  )
})

const onSmallDisk = testIf(
  process.platform === 'linux' && process.getuid?.() === 0,
  'edits on a disk that is really full',
  'on Linux run the tests as root',
)

onSmallDisk(
  'a disk that is really full, or read-only: edits are refused, none that was acknowledged is lost',
  async () => {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', folder.path])
    try {
      const { store, rename } = await opened()
      const filler = join(folder.path, 'filler')
      const { bavail, bsize } = statfsSync(folder.path)
      writeFileSync(filler, Buffer.alloc(bavail * bsize - 16 * 1024))
      let last = ''
      let refused: unknown
      for (let i = 0; !refused; i++) {
        const title = `${i}-${'x'.repeat(60)}`
        await rename(title).then(
          () => {
            last = title
          },
          error => {
            refused = error
          },
        )
      }
      expect(refused).toMatchObject({ code: 'edit.notSaved', message: expect.stringContaining('no space') })
      rmSync(filler)
      await rename('again')
      await store.close()
      expect(last).not.toBe('')
      expect(readFileSync(showIn(folder.path), 'utf8')).toBe(titled('again'))

      execFileSync('mount', ['-o', 'remount,ro', folder.path])
      await expect(openDocuments(folder.path)).rejects.toMatchObject({
        code: 'data.unwritable',
        where: folder.path,
      })
    } finally {
      execFileSync('umount', ['-l', folder.path])
    }
  },
)

it('a second server on the folder is refused by name, and the first goes on', async () => {
  const { store, rename } = await opened()
  const second = await run(['serve', 'demo', '--port', '0', '--data', folder.path])
  expect(second.code).toBe(1)
  const says = `data.locked: process ${process.pid} already serves this folder\n  in ${folder.path}\n`
  expect(second.stderr.startsWith(says)).toBe(true)
  await rename('On')
  await store.close()
  expect(readFileSync(showIn(folder.path), 'utf8')).toBe(titled('On'))
})
