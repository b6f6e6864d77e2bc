// The show version in the app, over real sockets, its engine in the test's hands: publish, take in, go back, damage, a full disk.

import { createHash } from 'node:crypto'
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { versionDesk } from '@glowchart/server/app/asking-version.ts'
import { openShowVersion } from '@glowchart/server/app/show-version.ts'
import { versionFiles } from '@glowchart/server/app/version-files.ts'
import { versionHash } from '@glowchart/server/app/version-hash.ts'
import type { AppMessage, EngineStatus, ToEngine } from '@glowchart/shared/messages.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { noUnderstudy } from '@glowchart/shared/understudy/status.ts'
import type { Checked, VersionRequest } from '@glowchart/shared/version/request.ts'
import type { Take } from '@glowchart/shared/version/take.ts'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'
import type { PageSocket } from '../support/page-socket.ts'
import { plugDisk } from './plug-disk.ts'
import { type RunningApp, rename, runApp, until } from './running-app.ts'

let running: RunningApp
let page: PageSocket
beforeEach(async () => {
  running = await runApp()
  page = await running.open('page-mine')
  running.engine.say({ type: 'up' })
  await until(() => loads().length === 1)
})
afterEach(() => running.close())

type Load = Extract<ToEngine, { type: 'load' }>
const loads = (): Load[] => running.engine.sent.filter((m): m is Load => m.type === 'load')
const versionNow = () =>
  page.messages.findLast((m): m is Extract<AppMessage, { type: 'version' }> => m.type === 'version')!
const ask = (version: VersionRequest) => page.ask({ type: 'version', version })
async function checked(take: Take): Promise<Checked> {
  expect((await ask({ do: 'check', take })).type).toBe('done')
  return page.messages.findLast((m): m is Extract<AppMessage, { type: 'checked' }> => m.type === 'checked')!
    .checked
}
async function publish(take: Take = 'all', despite = true) {
  const { hash } = await checked(take)
  return ask({ do: 'publish', take, hash, despite })
}
/** What the engine says of itself; only what the app reads of it. */
const status = (rest: Partial<EngineStatus>) =>
  running.engine.say({
    type: 'status',
    status: {
      song: null,
      look: null,
      playing: false,
      version: null,
      understudy: noUnderstudy,
      ...rest,
    } as EngineStatus,
  })

describe('a version that runs', () => {
  it('is what the engine gets once, and edits stay in the draft: saved, told to pages, kept from the engine', async () => {
    expect(versionNow()).toMatchObject({ running: null, versions: [] })
    await publish()
    await until(() => loads().length === 2)
    const { rig, show } = sampleDocuments()
    const hash = versionHash(rig, show)
    expect(loads()[1]).toEqual({ type: 'load', rig, show, revision: -1, version: hash })
    running.engine.sent.length = 0
    expect(await page.ask(rename('Kettle fog'))).toMatchObject({ type: 'done', revision: 2 })
    expect(running.titleOnDisk()).toBe('Kettle fog')
    expect(page.messages.some(m => m.type === 'applied')).toBe(true)
    expect(running.engine.sent).toEqual([])
    expect(versionNow().running).toMatchObject({ number: 1, hash, before: null, show })
  })

  it('has the SHA-256 of the canonical text of rig and show, on disk too', async () => {
    await publish()
    const path = join(running.data, 'published/moth-cabinet/1.json')
    const { published: kept } = JSON.parse(readFileSync(path, 'utf8'))
    const text = canonicalText({ rig: kept.rig, show: kept.show })
    expect(kept.hash).toBe(createHash('sha256').update(text).digest('hex'))
  })

  it('takes one song in, leaves the rest of the draft out, and goes back to the very documents of before', async () => {
    await publish()
    await page.ask(rename('Kettle fog'))
    await page.ask({ type: 'edit', edit: 'renameShow', args: { name: 'Other name' } })
    expect((await checked('all')).changes).toHaveLength(2)
    expect((await publish({ songs: ['kettle'], groups: [] })).type).toBe('done')
    await until(() => loads().length === 3)
    const taken = loads()[2]!.show
    expect([taken.songs.kettle!.title, taken.name]).toEqual(['Kettle fog', sampleDocuments().show.name])
    expect(versionNow().versions.map(v => [v.number, v.before])).toEqual([
      [2, 1],
      [1, null],
    ])
    expect(versionNow().running?.changes).toMatchObject([{ of: { song: 'kettle' } }])
    await ask({ do: 'run', number: 1, from: 2 })
    await until(() => loads().length === 4)
    expect(loads()[3]).toEqual(loads()[1])
    expect(running.titleOnDisk()).toBe('Kettle fog')
  })

  it('ends on purpose, and the draft sounds again', async () => {
    await publish()
    await page.ask(rename('Kettle fog'))
    await ask({ do: 'end', from: 1 })
    await until(() => loads().length === 3)
    expect(loads()[2]).toMatchObject({ revision: 2, show: { songs: { kettle: { title: 'Kettle fog' } } } })
    expect(loads()[2]!.version).toBeUndefined()
    running.engine.sent.length = 0
    await page.ask(rename('Mist'))
    expect(running.engine.sent).toMatchObject([{ type: 'change', from: 2 }])
  })

  it('refuses what no longer holds: another version by now, a draft that moved on, the same again, a song that stands', async () => {
    const { hash } = await checked('all')
    await page.ask(rename('Kettle fog'))
    const late = await ask({ do: 'publish', take: 'all', hash, despite: true })
    expect(late).toMatchObject({ problem: { code: 'version.changed' } })
    await publish()
    expect(await publish()).toMatchObject({ problem: { code: 'version.same' } })
    expect(await ask({ do: 'end', from: 7 })).toMatchObject({ problem: { code: 'version.changed' } })
    expect(await ask({ do: 'run', number: 9, from: 1 })).toMatchObject({
      problem: { code: 'version.unknown' },
    })
    const { show } = sampleDocuments()
    await page.ask({ type: 'edit', edit: 'addSong', args: addedSong })
    status({ song: 'added' })
    expect(await ask({ do: 'run', number: 1, from: 1 })).toMatchObject({
      problem: { code: 'version.stands' },
    })
    expect(loads()).toHaveLength(2)
    expect(Object.keys(loads()[1]!.show.songs)).toEqual(Object.keys(show.songs))
  })

  it('that must not be played so is refused until it is said to be played all the same', async () => {
    const kit = sampleDocuments().show.tonight
    const { bar } = sampleDocuments().show.kits[kit]!.guests
    const clash = { kit, guest: 'bar', value: { ...bar!, universe: 1, address: 1 } }
    await page.ask({ type: 'edit', edit: 'setGuest', args: clash })
    const refused = await publish('all', false)
    expect(refused).toMatchObject({ problem: { code: 'version.stops' } })
    expect(versionNow().running).toBeNull()
    await publish('all', true)
    expect(versionNow().running?.advice).toContainEqual(
      expect.objectContaining({ kind: 'overlap', severity: 'stop' }),
    )
  })

  it('lets no other show be opened while a song plays', async () => {
    await publish()
    status({ song: 'kettle', playing: true })
    const open = () => fetch(`${running.url}/api/open?show=moth-cabinet`, { method: 'POST' })
    expect((await open()).status).toBe(409)
    status({ song: 'kettle', playing: false })
    expect((await open()).status).toBe(200)
  })
})

const addedSong = {
  song: 'added',
  title: 'Added',
  bpm: 100,
  meter: { beats: 4, unit: 4 },
  section: 'verse',
  sectionName: 'Verse',
  bars: 8,
}

describe('an app that starts again', () => {
  it('runs the same version, and leaves an engine that plays it in peace', async () => {
    await publish()
    const { hash } = versionNow().running!
    await page.ask(rename('Kettle fog'))
    await running.restart()
    page = await running.open('page-again')
    running.engine.sent.length = 0
    running.engine.say({ type: 'up' })
    status({ song: 'kettle', playing: true, version: hash })
    await page.ask(rename('Mist'))
    expect(loads()).toEqual([])
    expect(versionNow().running).toMatchObject({ number: 1, hash })
  })

  it('loads it into an engine that holds something else', async () => {
    await publish()
    const { hash } = versionNow().running!
    await running.restart()
    running.engine.sent.length = 0
    running.engine.say({ type: 'up' })
    status({ version: null })
    await until(() => loads().length === 1)
    expect(loads()[0]!.version).toBe(hash)
  })

  it('names a damaged version, passes it over, and runs the one before it', async () => {
    await publish()
    await page.ask(rename('Kettle fog'))
    await publish()
    const path = join(running.data, 'published/moth-cabinet/2.json')
    // One letter is enough: it is still JSON and a valid show.
    writeFileSync(path, readFileSync(path, 'utf8').replace('"Kettle fog"', '"Kettle dog"'))
    await running.restart()
    page = await running.open('page-again')
    await until(() => versionNow() !== undefined)
    expect(versionNow().running?.number).toBe(1)
    expect(versionNow().damaged).toMatchObject([
      { code: 'file.damaged', where: path, message: expect.stringContaining('version 2') },
    ])
    await publish()
    expect(versionNow().running?.number).toBe(3)
    expect(readdirSync(join(running.data, 'published/moth-cabinet')).sort()).toEqual([
      '1.json',
      '2.json',
      '3.json',
      'runs',
    ])
  })
})

describe('a check', () => {
  it('tells how far it is, from its beginning, and is left off when its page leaves it or asks anew', async () => {
    const draft = sampleDocuments()
    const { length } = draft.show.songOrder
    const files = versionFiles('/data', plugDisk())
    const desk = versionDesk(await openShowVersion({ files, draft: () => draft }))
    const mine = {}
    const told: AppMessage[] = []
    const check = (seq: number, first: () => void) =>
      desk.ask(mine, { type: 'version', seq, version: { do: 'check', take: 'all' } }, null, message => {
        told.push(message)
        if (message.type === 'checking' && message.read === 0) first()
      })
    await check(1, () => desk.leave(mine))
    expect(told).toEqual([{ type: 'checking', seq: 1, read: 0, songs: length }])
    told.length = 0
    let second: Promise<undefined> | undefined
    await check(2, () => {
      second = check(3, () => {})
    })
    await second
    expect(told.map(one => ('seq' in one ? one.seq : 0))).toEqual([2, ...Array(length + 2).fill(3)])
    expect(told.at(-2)).toEqual({ type: 'checking', seq: 3, read: length, songs: length })
    expect(told.at(-1)).toMatchObject({ type: 'checked', checked: { changes: [] } })
  })

  it('is told over the socket, and leaving what is done is no error', async () => {
    await checked('all')
    expect(page.messages.find(m => m.type === 'checking')).toMatchObject({ read: 0 })
    expect(await ask({ do: 'leave' })).toMatchObject({ type: 'done' })
  })
})

describe('the files of versions', () => {
  const documents = sampleDocuments()
  const titled = (title: string) => applyEdit(documents, 'renameSong', { song: 'kettle', title }).next
  const publishAll = async (version: Awaited<ReturnType<typeof openShowVersion>>) => {
    const found = (await version.check('all'))!
    await version.ask({ do: 'publish', take: 'all', hash: found.hash, despite: true }, null)
  }

  it('keep the newest twenty', async () => {
    const disk = plugDisk()
    let draft = documents
    const version = await openShowVersion({ files: versionFiles('/data', disk), draft: () => draft })
    for (let i = 1; i <= 23; i++) {
      draft = titled(`Take ${i}`)
      await publishAll(version)
    }
    expect(version.versions.map(({ number }) => number)).toEqual(Array.from({ length: 20 }, (_, i) => 23 - i))
    const again = await openShowVersion({ files: versionFiles('/data', disk), draft: () => draft })
    expect(again.versions).toEqual(version.versions)
    expect(again.running).toEqual(version.running)
  })

  it('come through a power cut at any moment: the version before runs, or the new one, whole', async () => {
    const ran = new Set<number | undefined>()
    const fog = titled('Fog')
    for (let after = 0; after < 18; after++) {
      let draft = documents
      const disk = plugDisk()
      const version = await openShowVersion({ files: versionFiles('/data', disk), draft: () => draft })
      await publishAll(version)
      draft = fog
      const before = version.running
      let heard = 0
      version.listen(() => heard++)
      disk.failAfter = disk.operations + after
      const failed = await publishAll(version).then(
        () => null,
        error => error.code,
      )
      // What could not be made durable never reaches the engine.
      if (failed !== null) expect([failed, version.running, heard]).toEqual(['data.unwritable', before, 0])
      for (const lost of ['all', 'half'] as const) {
        const found = await openShowVersion({
          files: versionFiles('/data', disk.afterPowerCut(lost)),
          draft: () => draft,
        })
        if (failed === null) expect(found.running).toEqual(version.running)
        const { number, hash, rig, show } = found.running!
        expect(hash).toBe(versionHash(rig, show))
        ran.add(number)
      }
    }
    expect([...ran].sort()).toEqual([1, 2])
  })
})
