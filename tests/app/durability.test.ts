// What has been acknowledged survives: a plug pulled at every operation, a process killed at random, a full disk.

import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { startEditing } from '@glowchart/server/app/editing.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'
import { tempFolder } from '../support/processes.ts'
import { random } from '../support/random.ts'
import { type PlugDisk, plugDisk } from './plug-disk.ts'

let folder: ReturnType<typeof tempFolder>
beforeEach(() => {
  folder = tempFolder()
})
afterEach(() => folder.remove())

/** Names the song "0", "1", … until the disk fails; returns the last name that was acknowledged. */
async function renameSongs(disk: PlugDisk, count: number): Promise<string> {
  const store = await openDocuments(folder.path, { disk, now: () => 0 })
  let last = 'Kettle weather'
  try {
    const editing = startEditing(store, await store.load('moth-cabinet'))
    for (let i = 0; i < count; i++) {
      await editing.edit('me', 'renameSong', { song: 'kettle', title: String(i) })
      last = String(i)
    }
  } catch (error) {
    if (!/power is gone/.test((error as Error).message)) throw error
  } finally {
    store.close()
  }
  return last
}

async function seeded(): Promise<PlugDisk> {
  const disk = plugDisk()
  const store = await openDocuments(folder.path, { disk, now: () => 0 })
  await store.save(sampleDocuments())
  store.close()
  return disk.afterPowerCut('all')
}

async function titleOn(disk: PlugDisk): Promise<string> {
  const store = await openDocuments(folder.path, { disk, now: () => 0 })
  try {
    expect(store.notices).toEqual([])
    return (await store.load('moth-cabinet')).show.songs.kettle!.title
  } finally {
    store.close()
  }
}

describe('a plug pulled', () => {
  it.each(['all', 'half'] as const)(
    'at any operation loses no acknowledged edit (%s of the unsynced lost)',
    async lost => {
      const first = await seeded()
      const whole = first.afterPowerCut('all')
      expect(await renameSongs(whole, 3)).toBe('2')
      for (let cut = 0; cut <= whole.operations; cut++) {
        const disk = first.afterPowerCut('all')
        disk.failAfter = cut
        let acknowledged = 'Kettle weather'
        try {
          acknowledged = await renameSongs(disk, 3)
        } catch (error) {
          expect((error as { code?: string }).code).toBe('data.unwritable')
        }
        const found = await titleOn(disk.afterPowerCut(lost))
        // One more may have reached the disk before it could be acknowledged.
        const order = ['Kettle weather', '0', '1', '2']
        const beyond = order.indexOf(found) - order.indexOf(acknowledged)
        expect([0, 1], `after ${cut} operations: ${acknowledged} acknowledged, ${found} found`).toContain(
          beyond,
        )
      }
    },
  )

  it('is noticed by this test when a write is not forced to the disk', async () => {
    const first = await seeded()
    const careless = first.afterPowerCut('all')
    const { create } = careless
    careless.create = async path => ({ ...(await create(path)), sync: async () => {} })
    expect(await renameSongs(careless, 3)).toBe('2')
    await expect(titleOn(careless.afterPowerCut('all'))).rejects.toThrow()
    const unnamed = first.afterPowerCut('all')
    unnamed.syncFolder = async () => {}
    await renameSongs(unnamed, 3)
    expect(await titleOn(unnamed.afterPowerCut('all'))).toBe('Kettle weather')
  })
})

describe('a disk that fails', () => {
  it('refuses the edits that waited for it, and those that rest on them; then all goes on from what is saved', async () => {
    const disk = await seeded()
    const store = await openDocuments(folder.path, { disk, now: () => 0 })
    const editing = startEditing(store, await store.load('moth-cabinet'))
    const told: number[] = []
    editing.listen({ applied: edits => told.push(...edits.map(e => e.revision)), opened() {} })
    const rename = (title: string) => editing.edit('me', 'renameSong', { song: 'kettle', title })
    expect(await rename('saved')).toBe(2)
    disk.failAfter = disk.operations + 3
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
    store.close()
    expect(await titleOn(disk)).toBe('again')
  })
})

describe('a queue of edits', () => {
  it('writes those that wait together at once, acknowledges each in order, and only when it is on the disk', async () => {
    const disk = await seeded()
    const store = await openDocuments(folder.path, { disk, now: () => 0 })
    const editing = startEditing(store, await store.load('moth-cabinet'))
    let writes = 0
    const { rename } = disk
    disk.rename = async (from, to) => {
      writes++
      return rename(from, to)
    }
    const order: number[] = []
    const edits = Array.from({ length: 50 }, (_, i) =>
      editing.edit('me', 'renameSong', { song: 'kettle', title: String(i) }).then(revision => {
        order.push(revision!)
        return disk.read(`${folder.path}/shows/moth-cabinet.json`)
      }),
    )
    const texts = await Promise.all(edits)
    expect(order).toEqual(Array.from({ length: 50 }, (_, i) => i + 2))
    // The first alone, the others while it was written.
    expect(writes).toBe(2)
    expect(texts.every((text, i) => Number(/"title": "(\d+)"/.exec(text)![1]) >= i)).toBe(true)
    store.close()
  })

  it('does not count an edit that changes nothing', async () => {
    const store = await openDocuments(folder.path, { disk: await seeded(), now: () => 0 })
    const editing = startEditing(store, await store.load('moth-cabinet'))
    expect(await editing.edit('me', 'renameSong', { song: 'kettle', title: 'Kettle weather' })).toBe(null)
    expect(editing.revision).toBe(1)
    store.close()
  })
})

describe('kill -9', () => {
  it('loses no acknowledged edit, however often, and the next server opens the folder', async () => {
    const store = await openDocuments(folder.path)
    await store.save(sampleDocuments())
    store.close()
    const next = random(9)
    for (let round = 0; round < 6; round++) {
      const child = spawn(
        process.execPath,
        ['--import', 'tsx', fileURLToPath(new URL('./editing-child.ts', import.meta.url)), folder.path],
        { stdio: ['ignore', 'pipe', 'inherit'] },
      )
      let last = ''
      // Killed after so many acknowledgements, not after a time.
      let left = 1 + Math.floor(next() * 60)
      for await (const line of createInterface({ input: child.stdout })) {
        last = line
        if (--left === 0) child.kill('SIGKILL')
      }
      if (child.exitCode === null && child.signalCode === null) await once(child, 'exit')
      expect(child.signalCode).toBe('SIGKILL')
      const { title } = JSON.parse(readFileSync(`${folder.path}/shows/moth-cabinet.json`, 'utf8')).songs
        .kettle
      expect(Number(title)).toBeGreaterThanOrEqual(Number(last))
    }
  })
})
