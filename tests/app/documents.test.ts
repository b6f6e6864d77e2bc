// The data folder: versions kept, damaged files kept aside and replaced, newer ones left alone, one server at a time.

import { spawn } from 'node:child_process'
import { once } from 'node:events'
import fs, { constants, mkdirSync, readdirSync, readFileSync, readlinkSync, writeFileSync } from 'node:fs'
import { syncBuiltinESMExports } from 'node:module'
import { uptime } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { nodeDisk } from '@glowchart/server/app/disk.ts'
import { openDocuments } from '@glowchart/server/app/documents.ts'
import { installationId } from '@glowchart/server/app/installation.ts'
import { lockFolder, retireOrphan } from '@glowchart/server/app/lock.ts'
import { superfluous, versionName, versionTime } from '@glowchart/server/app/versions.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'
import { tempFolder } from '../support/processes.ts'

let folder: ReturnType<typeof tempFolder>
beforeEach(() => {
  folder = tempFolder()
})
afterEach(() => folder.remove())

const HOUR = 3_600_000
const start = Date.parse('2031-05-04T18:00:00.000Z')
const showPath = () => join(folder.path, 'shows', 'moth-cabinet.json')
const titled = (title: string) =>
  applyEdit(sampleDocuments(), 'renameSong', { song: 'kettle', title }).next.show

/** Saves shows with the titles given, one each `apart` ms. */
async function saved(titles: readonly string[], apart = 1000): Promise<void> {
  let now = start
  const store = await openDocuments(folder.path, { now: () => now })
  await store.save(sampleDocuments())
  for (const title of titles) {
    now += apart
    await store.save({ show: titled(title) })
  }
  await store.close()
}

async function load() {
  const store = await openDocuments(folder.path)
  try {
    const { show } = await store.load('moth-cabinet')
    return { title: show.songs.kettle!.title, notices: store.notices }
  } finally {
    await store.close()
  }
}

const versions = () => readdirSync(join(folder.path, 'versions', 'shows', 'moth-cabinet')).sort()

describe('a saved document', () => {
  it('is written as canonical text, and loads as it was', async () => {
    await saved([])
    expect(readFileSync(showPath(), 'utf8')).toBe(canonicalText(sampleDocuments().show))
    const store = await openDocuments(folder.path)
    expect(await store.load('moth-cabinet')).toEqual(sampleDocuments())
    expect(await store.shows()).toEqual([{ id: 'moth-cabinet', name: 'Moth Cabinet' }])
    await store.close()
  })

  it('leaves the ones before it as versions, by the time they were replaced', async () => {
    await saved(['a', 'b', 'c'])
    expect(versions()).toEqual([1, 2, 3].map(s => `2031-05-04T18-00-0${s}.000Z.json`))
    const kept = versions().map(v =>
      readFileSync(join(folder.path, 'versions/shows/moth-cabinet', v), 'utf8'),
    )
    expect(kept).toEqual([sampleDocuments().show, titled('a'), titled('b')].map(canonicalText))
  })

  it('keeps a version of its own for each, even when the clock stands still or goes back', async () => {
    // Each half a second before the one it replaces: the names keep the order, and none is written over.
    await saved(['a', 'b', 'c', 'd'], -500)
    const kept = versions().map(v =>
      readFileSync(join(folder.path, 'versions/shows/moth-cabinet', v), 'utf8'),
    )
    expect(kept).toEqual([sampleDocuments().show, titled('a'), titled('b'), titled('c')].map(canonicalText))
  })

  it('keeps the newest twenty and the last of each hour before', async () => {
    await saved(
      Array.from({ length: 70 }, (_, i) => String(i)),
      HOUR / 10,
    )
    const times = versions().map(versionTime)
    expect(times.slice(-20)).toEqual(Array.from({ length: 20 }, (_, i) => start + ((i + 51) * HOUR) / 10))
    // 70 versions over seven hours: of the first fifty, the last in each hour from 18 to 22.
    const hours = times.slice(0, -20).map(time => new Date(time).getUTCHours())
    expect(hours).toEqual([18, 19, 20, 21, 22, 23].slice(0, hours.length))
    expect(hours.length).toBeGreaterThanOrEqual(5)
  })

  it('does not keep hours without end', () => {
    const names = Array.from({ length: 1000 }, (_, i) => versionName(start - i * HOUR))
    expect(names.length - superfluous(names).length).toBe(20 + 240)
  })
})

describe('a damaged file', () => {
  it('is kept aside byte for byte, the last good version is opened, and it is said', async () => {
    await saved(['a', 'b', 'c'])
    const damage = readFileSync(showPath(), 'utf8').slice(0, 3000)
    writeFileSync(showPath(), damage)
    const { title, notices } = await load()
    expect(title).toBe('b')
    expect(notices).toHaveLength(1)
    expect(notices[0]).toMatchObject({ code: 'file.damaged' })
    expect(notices[0]!.where).toMatch(/moth-cabinet\.json: line \d+, column \d+$/)
    const aside = readdirSync(join(folder.path, 'damaged'))
    expect(aside).toHaveLength(1)
    expect(readFileSync(join(folder.path, 'damaged', aside[0]!), 'utf8')).toBe(damage)
    expect(notices[0]!.message).toContain(aside[0])
    // From here on it is the document: nothing is damaged any more.
    expect(await load()).toEqual({ title: 'b', notices: [] })
  })

  it('is passed over among the versions too', async () => {
    await saved(['a', 'b', 'c'])
    writeFileSync(showPath(), '')
    writeFileSync(join(folder.path, 'versions/shows/moth-cabinet', versions().at(-1)!), '{"format":')
    expect((await load()).title).toBe('a')
  })

  it('without a good version is named, and stays as it is', async () => {
    await saved([])
    writeFileSync(showPath(), '{"half')
    await expect(load()).rejects.toMatchObject({
      code: 'file.notJson',
      where: `${showPath()}: line 1, column 2`,
    })
    expect(readFileSync(showPath(), 'utf8')).toBe('{"half')
    const store = await openDocuments(folder.path)
    expect(await store.shows()).toMatchObject([{ id: 'moth-cabinet', problem: { code: 'file.notJson' } }])
    await store.close()
  })

  it('of a newer Glowchart is no damaged one: it is refused and left alone, whatever versions there are', async () => {
    await saved(['a', 'b'])
    const newer = canonicalText({ ...titled('c'), version: 99 })
    writeFileSync(showPath(), newer)
    await expect(load()).rejects.toMatchObject({ code: 'document.newer' })
    expect(readFileSync(showPath(), 'utf8')).toBe(newer)
    expect(readdirSync(folder.path)).not.toContain('damaged')
  })

  it('of a show that names no rig here is refused', async () => {
    const store = await openDocuments(folder.path)
    await store.save({ show: sampleDocuments().show })
    await expect(store.load('moth-cabinet')).rejects.toMatchObject({ code: 'document.rig' })
    await expect(store.load('../secret')).rejects.toMatchObject({ code: 'show.unknown' })
    await store.close()
  })
})

describe('the lock', () => {
  it('refuses a second server, naming the process that has the folder, and is free once that is done', async () => {
    const store = await openDocuments(folder.path)
    await expect(openDocuments(folder.path)).rejects.toMatchObject({
      code: 'data.locked',
      message: `process ${process.pid} already serves this folder`,
      where: folder.path,
    })
    await store.close()
    await (await openDocuments(folder.path)).close()
    expect(readdirSync(folder.path).filter(name => name.startsWith('lock'))).toEqual([])
  })

  it('refuses it to another process while one that holds it lives, and is taken over from one that was killed', async () => {
    const store = await openDocuments(folder.path)
    await store.save(sampleDocuments())
    await store.close()
    const child = spawn(
      process.execPath,
      ['--import', 'tsx', fileURLToPath(new URL('./editing-child.ts', import.meta.url)), folder.path],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    )
    try {
      await once(child.stdout, 'data')
      child.stdout.resume()
      expect(() => lockFolder(folder.path)).toThrow(expect.objectContaining({ code: 'data.locked' }))
      // This process looks after the child: it is no orphan.
      await expect(retireOrphan(folder.path)).rejects.toMatchObject({ code: 'data.locked' })
    } finally {
      child.kill('SIGKILL')
    }
    await once(child, 'exit')
    lockFolder(folder.path)()
  })

  it('of a process whose number another one has by now is nobody’s', () => {
    if (process.platform !== 'linux') return
    const app = { pid: process.ppid, started: '1' }
    writeFileSync(join(folder.path, 'lock'), JSON.stringify({ app, supervisor: app, token: 'old' }))
    lockFolder(folder.path)()
  })

  it('from before the machine was started again is nobody’s, whoever has the number of its process now', () => {
    const unlock = lockFolder(folder.path)
    const { supervisor } = JSON.parse(readFileSync(join(folder.path, 'lock'), 'utf8'))
    unlock()
    const lock = { app: supervisor, supervisor, token: 'old', up: uptime() + 3600 }
    writeFileSync(join(folder.path, 'lock'), JSON.stringify({ ...lock, up: 0 }))
    expect(() => lockFolder(folder.path)).toThrow(expect.objectContaining({ code: 'data.locked' }))
    writeFileSync(join(folder.path, 'lock'), JSON.stringify(lock))
    lockFolder(folder.path)()
  })

  it('holds on a disk that knows no second names, such as a stick', async () => {
    const { linkSync } = fs
    fs.linkSync = () => {
      throw Object.assign(new Error('EPERM: operation not permitted, link'), { code: 'EPERM' })
    }
    syncBuiltinESMExports()
    try {
      const store = await openDocuments(folder.path)
      await expect(openDocuments(folder.path)).rejects.toMatchObject({ code: 'data.locked' })
      await store.close()
      await (await openDocuments(folder.path)).close()
    } finally {
      fs.linkSync = linkSync
      syncBuiltinESMExports()
    }
  })

  it.each(['', '{"app":', '123 456\n'])('that cannot be read (%j) is nobody’s', text => {
    writeFileSync(join(folder.path, 'lock'), text)
    lockFolder(folder.path)()
  })
})

it('a folder that cannot be made is said to be so', async () => {
  mkdirSync(folder.path, { recursive: true })
  writeFileSync(join(folder.path, 'file'), '')
  await expect(openDocuments(join(folder.path, 'file'))).rejects.toMatchObject({ code: 'data.unwritable' })
})

it('the identity of an installation is made once, and anew where a power cut left an empty file', () => {
  writeFileSync(join(folder.path, 'cid'), '')
  const made = installationId(folder.path)
  expect(made).toHaveLength(16)
  expect(installationId(folder.path)).toEqual(made)
  expect(readdirSync(folder.path)).toEqual(['cid'])
})

it('the journal’s file is not opened to append: Windows would not let its torn end be taken away', async () => {
  const path = join(folder.path, 'journal')
  writeFileSync(path, 'one\ntw')
  const file = await nodeDisk.openEnd(path)
  // Windows refuses ftruncate on a file that was opened with O_APPEND (nodejs/node issue 3177).
  const flags = process.platform === 'linux' ? openFlagsOf(path) : 0
  expect(flags & constants.O_APPEND).toBe(0)
  await file.write('o\n')
  await file.truncate(4)
  await file.write('three\n')
  await file.write('four\n')
  await file.close()
  expect(readFileSync(path, 'utf8')).toBe('one\nthree\nfour\n')
})

/** Flags of the one handle that this process has of a file: proc(5), fdinfo. */
function openFlagsOf(path: string): number {
  const fd = readdirSync('/proc/self/fd').find(one => tryReadlink(`/proc/self/fd/${one}`) === path)!
  return Number.parseInt(/flags:\s+(\d+)/.exec(readFileSync(`/proc/self/fdinfo/${fd}`, 'utf8'))![1]!, 8)
}

function tryReadlink(path: string): string {
  try {
    return readlinkSync(path)
  } catch {
    return ''
  }
}
