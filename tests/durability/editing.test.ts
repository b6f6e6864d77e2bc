// Edits in one queue: written together, acknowledged in order and only when on the disk, refused when the disk fails.

import { openAccess } from '@glowchart/server/access/access.ts'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { startEditing } from '@glowchart/server/app/editing.ts'
import { noteNight } from '@glowchart/server/app/night-notes.ts'
import { noSupervisor } from '@glowchart/server/app/supervisor-link.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type PlugDisk, plugDisk } from '../app/plug-disk.ts'
import { sampleDocuments } from '../show/samples.ts'
import { tempFolder } from '../support/processes.ts'

let folder: ReturnType<typeof tempFolder>
let disk: PlugDisk
beforeEach(async () => {
  folder = tempFolder()
  const fresh = plugDisk()
  const store = await openDocuments(folder.path, { disk: fresh, now: () => 0 })
  await store.save(sampleDocuments())
  await store.close()
  disk = fresh.afterPowerCut('all')
})
afterEach(() => folder.remove())

const file = () => disk.peek(`${folder.path}/shows/moth-cabinet.json`)
const journal = () => disk.peek(`${folder.path}/edits.journal`)

async function opened() {
  const store = await openDocuments(folder.path, { disk, now: () => 0 })
  const editing = startEditing(store, await store.load('moth-cabinet'))
  const rename = (title: string) => editing.edit('me', 'renameSong', { song: 'kettle', title })
  return { store, editing, rename }
}

async function titleAfterStart(on = disk): Promise<{ title: string; notices: readonly string[] }> {
  const store = await openDocuments(folder.path, { disk: on, now: () => 0 })
  try {
    const { show } = await store.load('moth-cabinet')
    return { title: show.songs.kettle!.title, notices: store.notices.map(({ code }) => code) }
  } finally {
    await store.close()
  }
}

describe('a queue of edits', () => {
  it('writes those that wait together at once, acknowledges each in order, and only when it is on the disk', async () => {
    const { store, rename } = await opened()
    await rename('begun')
    const linesBefore = journal().split('\n').length
    const order: number[] = []
    const edits = Array.from({ length: 50 }, (_, i) =>
      rename(String(i)).then(revision => {
        order.push(revision!)
        return journal()
      }),
    )
    const texts = await Promise.all(edits)
    expect(order).toEqual(Array.from({ length: 50 }, (_, i) => i + 3))
    // The first alone, the others while it was written.
    expect(journal().split('\n').length).toBe(linesBefore + 2)
    expect(texts.every((text, i) => text.includes(`"after":"${i}"`))).toBe(true)
    expect(file()).toContain('Kettle weather')
    await store.close()
    expect(file()).toContain('"title": "49"')
    expect(disk.paths()).not.toContain(`${folder.path}/edits.journal`)
  })

  it('does not count an edit that changes nothing', async () => {
    const { store, editing, rename } = await opened()
    expect(await rename('Kettle weather')).toBe(null)
    expect(editing.revision).toBe(1)
    await store.close()
  })

  it('is written into the file soon after the last edit, of itself', async () => {
    const { store, rename } = await opened()
    await rename('Fog')
    await expect.poll(file, { timeout: 5000 }).toContain('"title": "Fog"')
    await store.close()
  })

  it('puts what was edited into the file before that is read for anything else', async () => {
    const { store, editing, rename } = await opened()
    await rename('Fog')
    expect(await store.textOf('show', 'moth-cabinet')).toContain('"title": "Fog"')
    await rename('Mist')
    await editing.edit('me', 'renameShow', { name: 'Moths' })
    expect(await store.shows()).toEqual([{ id: 'moth-cabinet', name: 'Moths' }])
    await rename('Haze')
    await editing.open(() => store.load('moth-cabinet'))
    expect(editing.documents.show.songs.kettle!.title).toBe('Haze')
    await store.close()
  })
})

describe('a disk that fails', () => {
  it('refuses the edits that waited for it, and those that rest on them; then all goes on from what is saved', async () => {
    const { store, editing, rename } = await opened()
    const told: number[] = []
    editing.listen({ applied: edits => told.push(...edits.map(e => e.revision)), opened() {} })
    expect(await rename('saved')).toBe(2)
    disk.failAfter = disk.operations
    const results = await Promise.allSettled([rename('a'), rename('b'), rename('c')])
    for (const result of results) {
      expect(result).toMatchObject({
        status: 'rejected',
        reason: { code: 'edit.notSaved', where: folder.path },
      })
    }
    expect(editing.documents.show.songs.kettle!.title).toBe('saved')
    disk.failAfter = Number.POSITIVE_INFINITY
    expect(await rename('again')).toBe(3)
    expect(told).toEqual([2, 3])
    await store.close()
    expect(await titleAfterStart()).toEqual({ title: 'again', notices: [] })
  })

  it('that is full refuses an edit and keeps those before it, and takes edits again once there is room', async () => {
    const { store, rename } = await opened()
    await rename('kept')
    disk.room = 30
    await expect(rename('lost')).rejects.toMatchObject({ code: 'edit.notSaved' })
    // Half a line stands in the journal now: whoever starts on it passes it over.
    expect(journal().endsWith('\n')).toBe(false)
    const killed = disk.afterPowerCut('none')
    killed.room = Number.POSITIVE_INFINITY
    await store.close()
    expect(await titleAfterStart(killed)).toEqual({ title: 'kept', notices: [] })
    disk.room = Number.POSITIVE_INFINITY
    expect(await titleAfterStart()).toEqual({ title: 'kept', notices: [] })
  })

  it('with room for the journal but not for the file says so, and writes the file once there is room', async () => {
    const { store, rename } = await opened()
    await rename('first')
    disk.room = 2000
    await rename('second')
    await expect(store.settle()).rejects.toMatchObject({ code: 'data.unwritable' })
    expect(store.notices).toMatchObject([{ code: 'file.behind', message: 'no space left on device' }])
    expect(file()).toContain('Kettle weather')
    disk.room = Number.POSITIVE_INFINITY
    await rename('third')
    await store.settle()
    expect(store.notices).toEqual([])
    expect(file()).toContain('"title": "third"')
    await store.close()
  })

  it('is told to the log of the night when it begins and when it is over, not with every edit', async () => {
    const { store, editing, rename } = await opened()
    const access = await openAccess({ dataFolder: folder.path, now: () => 0 })
    const said: unknown[] = []
    const supervisor = { ...noSupervisor, note: (...one: unknown[]) => said.push(one) }
    noteNight({ supervisor, access, editing, damaged: [] })
    await rename('kept')
    for (const spell of [2, 1]) {
      disk.room = 30
      for (let i = 0; i < spell; i++) await expect(rename(`lost ${i}`)).rejects.toThrow()
      disk.room = Number.POSITIVE_INFINITY
      await rename(`again ${spell}`)
      await rename(`and again ${spell}`)
    }
    expect(said).toEqual([
      ['server', 'Edits are refused: cannot be written: no space left on device.', true],
      ['server', 'Edits are saved again; 2 edits could not be.'],
      ['server', 'Edits are refused: cannot be written: no space left on device.', true],
      ['server', 'Edits are saved again; 1 edit could not be.'],
    ])
    access.close()
    await store.close()
  })

  it('that is read-only refuses edits and shows them to nobody', async () => {
    const { store, editing, rename } = await opened()
    disk.readOnly = true
    await expect(rename('lost')).rejects.toMatchObject({ code: 'edit.notSaved' })
    expect(editing.documents.show.songs.kettle!.title).toBe('Kettle weather')
    await store.close()
    await expect(openDocuments(folder.path, { disk })).resolves.toMatchObject({ notices: [] })
  })
})
