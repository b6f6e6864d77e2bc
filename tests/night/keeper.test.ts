// What the supervisor keeps: where the show was left, offered once at the next start, and never written over meanwhile.

import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { changesOf } from '@glowchart/server/app/night-notes.ts'
import { keepNight } from '@glowchart/server/night/keeper.ts'
import { nightFile } from '@glowchart/server/night/night-log.ts'
import type { EngineStatus, FromEngine, OutputStatus, Resume } from '@glowchart/shared/messages.ts'
import { parseNight } from '@glowchart/shared/night/event.ts'
import { type Kept, leftText } from '@glowchart/shared/recovery/kept.ts'
import { outputSchema } from '@glowchart/shared/show/output.ts'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'
import { tempFolder } from '../support/processes.ts'
import { EIGHT, quiet } from './status.ts'

let folder: ReturnType<typeof tempFolder>
let asked: unknown[]
let answers: number
beforeEach(() => {
  folder = tempFolder()
  asked = []
  answers = 0
})
afterEach(() => folder.remove())

const held = { type: 'holding' as const, ...sampleDocuments(), revision: 1 }
const keeper = (now = EIGHT) =>
  keepNight({
    dataFolder: folder.path,
    held: () => held,
    link: {
      request: async message => {
        asked.push(message)
        return undefined
      },
    },
    onAnswered: () => {
      answers++
    },
    now: () => now,
  })
const resume = (output: object = {}): FromEngine => ({
  type: 'resume',
  state: { output: outputSchema.parse(output) } as Resume,
})
const status = (change: Partial<EngineStatus>): FromEngine => ({
  type: 'status',
  status: { ...quiet, song: 'kettle', ...change },
})
const left = (): Kept => JSON.parse(readFileSync(join(folder.path, 'left.json'), 'utf8'))

async function leaveAt(position: number): Promise<void> {
  const first = keeper()
  first.hear(status({ playing: true, position }))
  first.hear(resume())
  await first.close()
}

describe('where the show was left', () => {
  it('is offered at the next start, in words with bar and minutes', async () => {
    await leaveAt(3840)
    const { offer } = keeper(EIGHT + 240_000)
    expect(offer).toEqual(left())
    const words = leftText(
      { kept: offer!, gone: [], otherVersion: false, otherShow: false, otherKit: false },
      EIGHT + 240_000,
    )
    expect(words).toBe(`It ended in “${held.show.songs.kettle!.title}”, bar 2, 4 minutes ago.`)
  })

  it('is not written over by an engine that has only just begun, and is void once something is under way', async () => {
    await leaveAt(3840)
    const before = left()
    const second = keeper(EIGHT + 1000)
    second.hear(status({}))
    second.hear(resume())
    expect(second.offer).toEqual(before)
    await second.close()
    expect(left()).toEqual(before)
    const third = keeper(EIGHT + 2000)
    third.hear(status({ playing: true, position: 960 }))
    third.hear(resume())
    expect([third.offer, answers]).toEqual([null, 1])
    await third.close()
    expect(left().position).toBe(960)
  })

  it('put aside, it is not offered again in this session; what follows is kept', async () => {
    await leaveAt(3840)
    const second = keeper()
    second.answered()
    expect(second.offer).toBeNull()
    second.hear(status({}))
    second.hear(resume())
    await second.close()
    expect(left()).toMatchObject({ position: 0, playing: false })
    // A show that was only looked at is nothing to go on from.
    expect(keeper().offer).toBeNull()
  })

  it.each([
    ['another night’s', EIGHT + 13 * 3600_000, null],
    ['damaged', EIGHT, '{"format":"glowchart-left","version":1,'],
    ['a newer version’s', EIGHT, '{"format":"glowchart-left","version":2}'],
  ])('is not offered where it is %s', async (_name, now, text) => {
    await leaveAt(3840)
    if (text !== null) writeFileSync(join(folder.path, 'left.json'), text)
    expect(keeper(now).offer).toBeNull()
  })

  it('is written at most once a second while a song plays', async () => {
    const one = keeper()
    const seen = new Set<string>()
    const began = performance.now()
    for (let i = 0; performance.now() - began < 1500; i++) {
      one.hear(status({ playing: true, position: i }))
      one.hear(resume())
      await new Promise(resolve => setTimeout(resolve, 5))
      try {
        seen.add(readFileSync(join(folder.path, 'left.json'), 'utf8'))
      } catch {
        // Not written yet.
      }
    }
    expect(seen.size).toBe(1)
    await one.close()
    for (const text of seen) expect(JSON.parse(text)).toMatchObject({ format: 'glowchart-left' })
  })
})

it('every node is asked whether it is there, however many universes go to the first of them', async () => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] })
  const one = keeper()
  const outputs = ['2.0.0.9', '2.0.0.10'].flatMap(host =>
    Array.from({ length: 70 }, (_, portAddress): OutputStatus => {
      const to = { protocol: 'artnet' as const, host, port: 6454, portAddress, mode: 'every' as const }
      return { route: { universe: 1, to }, packets: 0, errors: 0, says: '' }
    }),
  )
  one.hear(status({ outputs }))
  vi.advanceTimersByTime(9000)
  vi.useRealTimers()
  await one.close()
  const hosts = ['2.0.0.9', '2.0.0.10'].map(address => ({ address, port: 6454 }))
  expect(asked).toEqual([{ type: 'discover', discover: { everywhere: false, hosts } }])
})

describe('the log', () => {
  it('goes on over the death of the engine, and takes notes of others', async () => {
    const one = keeper()
    one.hear(status({ playing: true, position: 3840 }))
    one.hear({ type: 'down' } as never)
    one.hear(status({ playing: true, position: 4000, pid: 101 }))
    one.note('app', 'The server of the pages fell over.', true)
    await one.close()
    const evening = new Date(EIGHT - 5 * 3600_000 - new Date(EIGHT).getTimezoneOffset() * 60_000)
    const text = readFileSync(nightFile(folder.path, evening.toISOString().slice(0, 10)), 'utf8')
    const { events } = parseNight(text)
    expect(events.map(event => event.kind)).toEqual(['start', 'engine', 'engine', 'app'])
    expect(events[1]).toMatchObject({ song: held.show.songs.kettle!.title, bar: 2, fault: true })
  })
})

describe('who has the controls', () => {
  it('is written down as guests join, are given more, and leave', () => {
    const guest = (role: 'viewer' | 'controller') => ({
      id: 'g1',
      name: 'Wenona',
      role,
      address: '127.0.0.2',
      pages: 1,
    })
    const state = (...guests: ReturnType<typeof guest>[]) => ({
      open: { address: '127.0.0.1', url: '', says: '' },
      pin: null,
      unsaved: '',
      interfaces: [],
      guests,
    })
    expect(changesOf({ ...state(), open: null }, state())).toEqual(['Phones may join at 127.0.0.1.'])
    expect(changesOf(state(), state(guest('viewer')))).toEqual(['Wenona has joined and looks on.'])
    expect(changesOf(state(guest('viewer')), state(guest('controller')))).toEqual([
      'Wenona has the controls now.',
    ])
    expect(changesOf(state(guest('controller')), state())).toEqual(['Wenona has left.'])
  })
})
