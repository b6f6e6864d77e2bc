// The plug pulled at random: a few of the rounds of `npm run durability`, and proof that a round notices a careless disk.

import type { OpenFile } from '@glowchart/server/app/disk.ts'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { PlugDisk } from '../app/plug-disk.ts'
import { tempFolder } from '../support/processes.ts'
import { powerRound } from './power-round.ts'

let folder: ReturnType<typeof tempFolder>
beforeAll(() => {
  folder = tempFolder()
})
afterAll(() => folder.remove())

describe('a plug pulled at any operation', () => {
  it.each([1, 2, 3])('loses no acknowledged edit, and leaves every file whole (seed %i)', async seed => {
    const { acknowledged, cuts } = await powerRound(seed, folder.path)
    expect(acknowledged).toBeGreaterThan(0)
    expect(cuts).toBe(3)
  })

  const unsynced = (file: OpenFile): OpenFile => ({ ...file, sync: async () => {} })
  const careless: [string, (disk: PlugDisk) => void][] = [
    [
      'whole files are not forced to the disk',
      disk => {
        const { create } = disk
        disk.create = async path => unsynced(await create(path))
      },
    ],
    [
      'the lines of the journal are not',
      disk => {
        const { openEnd } = disk
        disk.openEnd = async path => unsynced(await openEnd(path))
      },
    ],
    [
      'their names are not',
      disk => {
        disk.syncFolder = async () => {}
      },
    ],
  ]
  it.each(careless)('is noticed by these rounds when %s', async (_, spoil) => {
    const rounds = async () => {
      for (let seed = 1; seed <= 6; seed++) await powerRound(seed, folder.path, spoil)
    }
    await expect(rounds()).rejects.toThrow(/is lost|JSON|is there/)
  })
})
