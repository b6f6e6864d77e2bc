// Faults planted for real: a server of its own, a damaged file, a silent node, a folder that takes nothing; each is found.

import { chmodSync, mkdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { tryDisk } from '@glowchart/server/app/preflight/disk.ts'
import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songAdvice, stageAdvice } from '@glowchart/shared/advice/advise.ts'
import type { Network } from '@glowchart/shared/messages.ts'
import type { Facts, ServerFacts } from '@glowchart/shared/preflight/facts.ts'
import { preflight } from '@glowchart/shared/preflight/judge.ts'
import { judgedVersion } from '@glowchart/shared/preflight/judged.ts'
import type { CheckId, Row } from '@glowchart/shared/preflight/row.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import { applyDiff } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { clicks, waveFile } from '../recording/wave-file.ts'
import { type FakeNode, openFakeNode } from '../support/fake-node-socket.ts'
import { faultyFile } from '../support/faulty.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { type Served, serveDemo, tempFolder } from '../support/processes.ts'

let served: Served
let page: PageSocket
let node: FakeNode
/** Of the faulty show, read once: no planting below changes a song. */
let songs: Record<string, readonly Advice[]>

beforeAll(async () => {
  served = await serveDemo()
  const taken = await fetch(`${served.url}/api/import`, {
    method: 'POST',
    body: readFileSync(faultyFile, 'utf8'),
  })
  expect(taken.ok).toBe(true)
  page = await openPage(served.url)
  node = await openFakeNode('Pantry', [1, 2])
  const { rig, show } = documents()
  songs = {
    song: readToEnd(songAdvice(rig, show, show.tonight, 'song')),
  }
})
afterAll(async () => {
  page?.close()
  await node?.close()
  await served?.close()
})

function readToEnd<T>(steps: Generator<unknown, T>): T {
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** The documents as a page has them: the greeting's, with every edit since. */
function documents(): Documents {
  let { rig, show } = page.hello
  for (const message of page.messages) {
    if (message.type !== 'applied') continue
    if (message.document === 'rig') rig = applyDiff(rig, message.diff)
    else show = applyDiff(show, message.diff)
  }
  return { rig, show }
}

const edit = async (name: string, args: unknown) => {
  expect(await page.ask({ type: 'edit', edit: name, args })).toMatchObject({ type: 'done' })
}

async function facts(): Promise<Facts> {
  const server = (await (await fetch(`${served.url}/api/preflight`)).json()) as ServerFacts
  const { rig, show } = documents()
  const networks = page.messages.flatMap(message => (message.type === 'network' ? [message.network] : []))
  return {
    rig,
    show,
    stage: stageAdvice(rig, show, show.tonight),
    songs,
    running: null,
    draft: { rig, show },
    status: await page.status(() => true),
    network: networks.at(-1) ?? null,
    engineNow: Number(process.hrtime.bigint()) / 1e6,
    server,
    page: { at: Date.now(), battery: null, canStayAwake: true, isHere: true, decoded: {}, keys: [] },
  }
}

const rowIn = (id: CheckId, some: Facts): Row =>
  preflight(some)
    .flatMap(group => group.rows)
    .find(row => row.id === id)!
const rowOf = async (id: CheckId): Promise<Row> => rowIn(id, await facts())

/** Resolves with the next word on the network that fits. */
async function network(fits: (network: Network) => boolean): Promise<void> {
  const from = page.messages.length
  for (;;) {
    if (page.messages.slice(from).some(m => m.type === 'network' && fits(m.network))) return
    await page.status(() => true)
  }
}

const artnet = (universe: number, to: object = {}) => ({
  universe,
  to: {
    protocol: 'artnet' as const,
    host: '127.0.0.1',
    port: node.port,
    portAddress: universe,
    mode: 'every' as const,
    ...to,
  },
})
const send = async (routes: object[]) => {
  const output = { rate: 40, sync: false as const, sourceName: 'Test', routes: routes as never }
  expect(await page.ask({ type: 'output', output })).toMatchObject({ type: 'done' })
}

describe('planted on the stage of the faulty show', () => {
  it.each<[CheckId, 'stop' | 'heed', RegExp, RegExp]>([
    ['patch', 'stop', /both listen to addresses/, /Set Box .* to address|Plug .* into a socket/],
    ['parts', 'heed', /Nobody|Spare|Hen/, /./],
    ['faults', 'heed', /Tube 3.*Green stays out/, /Repair Tube 3/],
    ['wiring', 'heed', /fuse|conductor|contact/, /fuse|cable|plug/],
    ['cables', 'heed', /too short for/, /longer cable/],
    ['power', 'heed', /Box B gives 7\.5 A/, /Arm a power limit/],
    ['flash', 'stop', /flash/, /rules of the venue/],
    ['strobe', 'heed', /held above 8 flashes a second only, more than the 4 of UK HSE/, /Ask the house/],
    ['version', 'heed', /No version runs/, /Publish a version/],
    ['songs', 'heed', /dark|nothing|no light/i, /./],
    ['lineCheck', 'heed', /Not done yet: \d+ lights/, /Walk the line check/],
    ['universes', 'stop', /output is off/, /Choose a node/],
  ])('%s is found', async (id, result, says, remedy) => {
    const row = await rowOf(id)
    expect(row.result).toBe(result)
    expect([row.says, ...(row.more ?? [])].join(' ')).toMatch(says)
    expect(row.remedy).toMatch(remedy)
    expect(row.mend).toBeDefined()
  })

  it('a venue without a limit on strobes is found, and gets one of 3 flashes a second by the button', async () => {
    const kit = documents().show.tonight
    await edit('setVenue', { kit, strobes: null })
    const row = await rowOf('strobe')
    expect(row).toMatchObject({ result: 'heed', says: expect.stringMatching(/No limit is set/) })
    expect(row.mend).toEqual({ do: 'limitStrobes', flashes: 3 })
    await edit('setVenue', { kit, strobes: 3 })
    expect((await rowOf('strobe')).result).toBe('good')
  })

  it('an overload is mended by its button: the limit keeps what the supply may give for long', async () => {
    const { mend } = await rowOf('power')
    expect(mend).toEqual({ do: 'arm', limits: [{ box: 'b', amps: 7.2 }] })
  })
})

describe('a version that runs', () => {
  it('is what is judged, with the newest word on its lights; what only the draft has stands in one row', async () => {
    const real = await facts()
    const kit = real.show.tonight
    const { rig, show } = applyEdit(documents(), 'setVenue', { kit, strobes: 3 }).next
    const hash = '5e'.repeat(32)
    const version = {
      ...{ number: 4, at: '2026-05-02T18:40:00.000Z', name: show.name, hash, before: null, changes: [] },
      ...{ advice: [...real.stage!, ...Object.values(songs).flat()], rig, show },
    }
    const judge = (draft: Documents) => (id: CheckId) =>
      rowIn(id, {
        ...real,
        ...judgedVersion(version, draft.rig),
        draft,
        status: { ...real.status!, version: hash },
      })
    const same = judge({ rig, show })
    expect(same('version')).toMatchObject({
      result: 'good',
      says: expect.stringContaining('was judged here'),
    })
    // In the draft the limit is gone; a light was found broken since.
    const { id } = stageOf(rig, show.kits[kit]!).fixtures.find(one => rig.fixtures[one.id])!
    const broken = { ...rig.fixtures[id]!, faults: [{ at: version.at, what: 'Flickers when cold' }] }
    const edited = applyEdit({ rig, show }, 'setVenue', { kit, strobes: null }).next.show
    const later = judge({ rig: { ...rig, fixtures: { ...rig.fixtures, [id]: broken } }, show: edited })
    for (const row of ['patch', 'strobe', 'power', 'set'] as const) expect(later(row)).toEqual(same(row))
    expect(later('strobe').result).toBe('good')
    expect(JSON.stringify(later('faults'))).toContain('Flickers when cold')
    const row = later('version')
    expect(row).toMatchObject({ result: 'heed', says: expect.stringMatching(/1 change since will not play/) })
    expect(row.more).toEqual([expect.stringContaining('limits of the venue')])
    const draft = { rig, show: edited }
    expect(rowIn('strobe', { ...real, ...draft, draft }).result).not.toBe('good')
  })
})

describe('planted on the disk', () => {
  it('a damaged show file is named', async () => {
    expect((await rowOf('files')).result).toBe('good')
    writeFileSync(join(served.data, 'shows', 'attic.json'), '{ "format": "glowchart-show", "version": 2,')
    const row = await rowOf('files')
    expect(row).toMatchObject({ result: 'stop', says: expect.stringContaining('attic.json') })
    expect(row.remedy).toMatch(/earlier version/)
  })

  it.skipIf(process.platform === 'win32')('a folder that takes nothing is named', async () => {
    const folder = tempFolder()
    const locked = join(folder.path, 'locked')
    mkdirSync(locked)
    chmodSync(locked, 0o555)
    // A superuser may write everywhere: the fault is tried as nobody.
    const isRoot = process.geteuid?.() === 0
    chmodSync(folder.path, 0o755)
    if (isRoot) process.seteuid!(65534)
    const disk = await tryDisk(locked).finally(() => isRoot && process.seteuid!(0))
    folder.remove()
    const real = await facts()
    expect(rowIn('disk', real).result).not.toBe('stop')
    const row = rowIn('disk', { ...real, server: { ...real.server!, folder: locked, disk } })
    expect(row).toMatchObject({ result: 'stop', says: expect.stringMatching(/locked.*EACCES/) })
    expect(row.remedy).toMatch(/Make room on the disk, or let this user write/)
  })

  it('a recording is missed, and one whose bytes have changed', async () => {
    const wave = waveFile(clicks([0.1], 0.5), 44_100)
    const kept = await fetch(`${served.url}/api/audio?name=take.wav`, {
      method: 'POST',
      body: new Uint8Array(wave),
    })
    const { file } = (await kept.json()) as { file: string }
    const path = join(served.data, 'audio', file)
    const audio = { file, name: 'take.wav', start: 0, level: 1, seconds: 0.5 }
    await edit('setAudio', { song: 'song', audio })
    const whole = await facts()
    expect(rowIn('recordings', whole).result).toBe('unknown')
    const decoded = { ...whole, page: { ...whole.page, decoded: { [file]: true } } }
    expect(rowIn('recordings', decoded)).toMatchObject({ result: 'good' })
    wave.writeUInt8(wave.readUInt8(2000) ^ 1, 2000)
    writeFileSync(path, wave)
    const row = await rowOf('recordings')
    expect(row).toMatchObject({ result: 'heed', says: expect.stringContaining('damaged') })
    expect(row.remedy).toMatch(/Attach it again/)
    expect(row.mend).toEqual({ do: 'go', place: 'chart', song: 'song' })
    await edit('setAudio', { song: 'song', audio: { ...audio, file: `${'0'.repeat(64)}.wav` } })
    expect(await rowOf('recordings')).toMatchObject({
      says: expect.stringContaining('not in the data folder'),
    })
  })

  it('a clock that lies before the files of the show is doubted', async () => {
    expect((await rowOf('time')).result).toBe('good')
    const path = join(served.data, 'shows', 'faulty.json')
    const ahead = Date.now() / 1000 + 86_400
    utimesSync(path, ahead, ahead)
    expect(await rowOf('time')).toMatchObject({
      result: 'heed',
      remedy: expect.stringMatching(/Set the clock/),
    })
  })
})

describe('planted in the set and at the pedals', () => {
  it('an empty set list is found', async () => {
    await edit('setSetList', { list: 'empty', value: { name: 'Short night', songs: [] } })
    await edit('setTonightList', { list: 'empty' })
    const row = await rowOf('set')
    expect(row).toMatchObject({ result: 'stop', says: '“Short night” has no songs.' })
    expect(row.mend).toEqual({ do: 'go', place: 'setlist' })
    await edit('setTonightList', { list: null })
  })

  it('triggers by MIDI are found to have no port', async () => {
    const { status } = await facts()
    const triggers = [{ input: { from: 'note', channel: 4, note: 36 }, action: { do: 'next' } }]
    await edit('setTriggers', { triggers })
    const real = await facts()
    // A machine with a port of its own cannot be the one without.
    const none = { ...real, status: { ...status!, midi: { ...status!.midi, ports: [] } } }
    const row = rowIn('ports', none)
    expect(row).toMatchObject({
      result: 'stop',
      says: expect.stringMatching(/^1 trigger .* no port is open/),
    })
    expect(row.remedy).toMatch(/Plug the device in|learn keys/)
    // The pedal itself is heard once it is pressed, and only then.
    expect(rowIn('pedals', real).result).toBe('unknown')
    page.send({ type: 'midi', midi: { port: 'test', at: 0, bytes: [0x93, 36, 100] } })
    for (;;) {
      if (page.messages.some(message => message.type === 'touched')) break
      await page.status(() => true)
    }
    expect((await rowOf('pedals')).result).toBe('good')
  })

  it('a clock from outside that nobody has heard is found', async () => {
    expect((await rowOf('clock')).result).toBe('good')
    await page.ask({ type: 'transport', transport: { do: 'clock', source: 'midi' } })
    await page.status(status => status.clock.source === 'midi')
    const row = await rowOf('clock')
    expect(row).toMatchObject({ result: 'heed', says: expect.stringContaining('none has been heard') })
    expect(row.remedy).toMatch(/Start the other side/)
    await page.ask({ type: 'transport', transport: { do: 'clock', source: 'internal' } })
  })
})

describe('planted on the network', () => {
  it('a universe without a route, and a node that falls silent, are found', async () => {
    await send([artnet(1)])
    await page.status(status => (status.outputs[0]?.packets ?? 0) > 5)
    const ask = () =>
      page.ask({
        type: 'discover',
        discover: { everywhere: false, hosts: [{ address: '127.0.0.1', port: node.port }] },
      })
    await ask()
    await network(({ nodes }) => nodes.some(one => one.port === node.port && one.lastSeen !== null))
    expect(await rowOf('universes')).toMatchObject({
      result: 'stop',
      says: 'No route for universe 2: its lights stay dark.',
    })
    expect(await rowOf('nodes')).toMatchObject({ result: 'good', says: 'Pantry: answered.' })
    expect(await rowOf('sending')).toMatchObject({ result: 'good' })
    node.on = false
    await ask()
    await network(({ nodes }) => nodes.some(one => one.port === node.port && one.silent))
    const row = await rowOf('nodes')
    expect(row).toMatchObject({
      result: 'stop',
      says: expect.stringMatching(/^Pantry \(127\.0\.0\.1\) has been silent/),
    })
    expect(row.remedy).toMatch(/mains, its cable and its address/)
    expect(row.mend).toEqual({ do: 'ask' })
  })

  it('a house that is listened to where our own light goes is found, also before anything is sent', async () => {
    const real = await facts()
    const venue = (from: object) => {
      const house = { from, blackout: 1 }
      const draft = applyEdit(real.draft, 'setVenue', { kit: real.show.tonight, house }).next
      return { ...real, ...draft, draft }
    }
    const same = { protocol: 'artnet', portAddress: 1 }
    expect(rowIn('house', venue(same))).toMatchObject({
      result: 'stop',
      says: expect.stringContaining('Art-Net 0:0:1, and the show’s own light is sent there too'),
      remedy: expect.stringContaining('a universe of its own'),
      mend: { do: 'go', place: 'setlist' },
    })
    expect(rowIn('house', venue({ ...same, portAddress: 100 })).result).not.toBe('stop')
    expect(rowIn('house', venue({ protocol: 'sacn', universe: 1 })).result).not.toBe('stop')
    const off = { ...venue(same), status: { ...real.status!, outputs: [] } }
    expect(rowIn('house', off).result).not.toBe('stop')
    const { show } = off.draft
    const kept = { ...show, output: { ...show.output, routes: [artnet(1)] } }
    expect(rowIn('house', { ...off, draft: { ...off.draft, show: kept } }).result).toBe('stop')
  })

  it('a route whose adapter is not there is found', async () => {
    // TEST-NET-1 (RFC 5737) is nobody's address, and nothing is sent from it.
    await send([{ ...artnet(1), via: '192.0.2.1' }])
    await page.status(status => (status.outputs[0]?.errors ?? 0) > 0)
    const row = await rowOf('sending')
    expect(row).toMatchObject({ result: 'stop', says: expect.stringContaining('192.0.2.1') })
    expect(row.mend).toEqual({ do: 'go', place: 'outputs' })
  })
})
