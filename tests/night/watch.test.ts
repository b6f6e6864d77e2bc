// The night as a pure machine: what a row of statuses makes it write down, and what it leaves out.

import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { eveningOf } from '@glowchart/shared/night/evening.ts'
import { type NightEvent, nightEventSchema, parseNight } from '@glowchart/shared/night/event.ts'
import { namesOf } from '@glowchart/shared/night/names.ts'
import { chaptersOf, isTrouble, nightCsv, nightText } from '@glowchart/shared/night/report.ts'
import { freshWatch, type Watch, watchSilence, watchStatus } from '@glowchart/shared/night/watch.ts'
import { nodeEvents } from '@glowchart/shared/night/wires.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { noUnderstudy, type UnderstudyStatus } from '@glowchart/shared/understudy/status.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'
import { EIGHT, quiet } from './status.ts'

const documents = sampleDocuments()
const names = namesOf(documents)
const { kettle } = documents.show.songs
const timeline = timelineOf(kettle!)
const [first, second] = timeline.sections
const secondName = kettle!.sections[second!.id]!.name

/** Plays statuses a tenth of a second apart; gives what was said. */
function night(...changes: Partial<EngineStatus>[]): NightEvent[] {
  let watch: Watch = freshWatch
  let status = quiet
  const said: NightEvent[] = []
  for (const [i, change] of changes.entries()) {
    status = { ...status, at: i * 100, ...change }
    const step = watchStatus(watch, status, names, EIGHT + i * 100)
    watch = step.watch
    said.push(...step.events)
  }
  return said
}
const says = (...changes: Partial<EngineStatus>[]) => night(...changes).map(event => event.says)

const at = (bar: number) => barStart(timeline.meters, bar - 1)
const route = {
  universe: 1,
  to: { protocol: 'artnet' as const, host: '127.0.0.1', port: 6454, portAddress: 1, mode: 'every' as const },
}
const output = (errors: number, words = '') => ({ outputs: [{ route, packets: 40, errors, says: words }] })

describe('songs', () => {
  it('are written down as they stand, start, stop with section and bar, go on and end', () => {
    const end = timeline.length
    const { title } = kettle!
    const bar = second!.firstBar + 1
    expect(
      says(
        {},
        { song: 'kettle' },
        { playing: true },
        { position: second!.start },
        { playing: false },
        { playing: true },
        { position: end - 1 },
        { playing: false },
      ).filter(line => !line.startsWith('Jumped')),
    ).toEqual([
      `${title} stands ready.`,
      `${title} starts.`,
      `${title} stops in ${secondName}, bar ${bar}.`,
      `${title} goes on from bar ${bar}.`,
      `${title} ends.`,
    ])
  })

  it('that play on say nothing, at any tempo and any rate of looks', () => {
    fc.assert(
      fc.property(fc.integer({ min: 40, max: 240 }), fc.integer({ min: 20, max: 900 }), (bpm, step) => {
        let watch = freshWatch
        const events: NightEvent[] = []
        for (let i = 0; i < 30; i++) {
          const position = (i * step * bpm * 960) / 60_000
          if (position >= timeline.length - 960) break
          const status = { ...quiet, song: 'kettle', playing: true, at: i * step, bpm, position }
          const next = watchStatus(watch, status, names, EIGHT + i * step)
          watch = next.watch
          events.push(...next.events)
        }
        expect(events.map(event => event.kind)).toEqual(['start'])
      }),
      { numRuns: 50 },
    )
  })

  it('that are jumped in say where to; a repeat is told once, however often it goes round', () => {
    const from = first!.start
    const back = { position: from, repeated: { from, times: 1 } }
    expect(
      says(
        { song: 'kettle', playing: true, position: at(1) },
        { position: second!.start },
        { position: second!.start + 100 },
        back,
        { position: second!.start - 10 },
        { ...back, repeated: { from, times: 2 } },
      ).slice(1),
    ).toEqual([
      `Jumped on to ${secondName}, bar ${second!.firstBar + 1}.`,
      `${kettle!.sections[first!.id]!.name} is repeated.`,
      expect.stringContaining('Jumped on'),
    ])
  })
})

describe('trouble', () => {
  it('with sending is told when it begins and when it is over, once each', () => {
    const words = 'The cable is out.'
    const failing = Array.from({ length: 40 }, (_, i) => output(i + 1, words))
    const well = Array.from({ length: 40 }, () => output(40))
    const said = night({}, output(0), ...failing, ...well)
    expect(said.map(event => event.says)).toEqual([
      'The output is on: to 127.0.0.1.',
      words,
      expect.stringMatching(/leave again; for 3\.9 s they did not \(40 of them\)/),
    ])
    expect(said.map(event => event.fault)).toEqual([undefined, true, undefined])
  })

  it('with late frames is told in stretches, and not at all where it is a trifle', () => {
    const frames = (late: number, skipped: number) => ({ frames: { ...quiet.frames, late, skipped } })
    const minute = (each: (i: number) => Partial<EngineStatus>) =>
      says(...Array.from({ length: 600 }, (_, i) => each(i)))
    expect(minute(i => frames(Math.floor(i / 200), 0))).toEqual([])
    expect(minute(i => frames(i, 0)).length).toBe(5)
    expect(minute(i => frames(0, i > 300 ? 1 : 0))).toEqual(['0 frames late and 1 left out within 10 s.'])
    // A new engine counts from the start: no negative counts.
    expect(minute(i => (i > 300 ? { ...frames(0, 0), pid: 101 } : frames(0, 0)))).toEqual([
      'Another light engine has taken over.',
    ])
  })

  it('with the clock: lost, back, and the name of its source', () => {
    const clock = (lock: EngineStatus['clock']['lock'], source: 'midi' | 'mtc' = 'midi') => ({
      clock: { ...quiet.clock, source, lock },
    })
    const said = night({}, clock('waiting'), clock('locked'), clock('lost'), clock('lost'), clock('locked'))
    expect(said.map(event => event.says)).toEqual([
      'The songs run on MIDI clock now.',
      'The MIDI clock is heard and locked.',
      'The MIDI clock is lost; the song goes on at the last tempo.',
      'The MIDI clock is back.',
    ])
    expect(said.filter(isTrouble).length).toBe(4)
  })

  it('with the engine: silence and return, with how long it took', () => {
    const { watch } = watchStatus(freshWatch, { ...quiet, song: 'kettle', position: at(3) }, names, EIGHT)
    const gone = watchSilence(watch, names, EIGHT + 200)
    expect(gone.events).toMatchObject([{ says: 'The light engine does not answer.', fault: true, bar: 3 }])
    expect(watchSilence(gone.watch, names, EIGHT + 300).events).toEqual([])
    const back = watchStatus(
      gone.watch,
      { ...quiet, pid: 101, song: 'kettle', position: at(3) },
      names,
      EIGHT + 900,
    )
    expect(back.events.map(event => event.says)).toEqual(['The light engine is back after 0.7 s.'])
  })

  it('with time: a laptop that slept, or whose clock was set', () => {
    const { watch } = watchStatus(freshWatch, quiet, names, EIGHT)
    const later = watchStatus(watch, { ...quiet, at: 100 }, names, EIGHT + 31_100)
    expect(later.events).toMatchObject([{ kind: 'time', says: expect.stringContaining('31 s ahead') }])
    const steered = watchStatus(watch, { ...quiet, at: 100 }, names, EIGHT + 600)
    expect(steered.events).toEqual([])
  })

  it('with a node that light is sent to: its silence and its return; others are nobody’s business', () => {
    const node = (silent: boolean, port = 6454) => ({
      address: '127.0.0.1',
      port,
      name: 'Pantry',
      longName: '',
      portAddresses: [1],
      lastSeen: 5,
      silent,
      says: '',
    })
    const network = (...nodes: ReturnType<typeof node>[]) => ({ interfaces: [], nodes, says: '' })
    const sent = output(0)
    const one = nodeEvents(freshWatch.wires, network(node(true), node(true, 7000)), sent, EIGHT)
    expect(one.said).toEqual([
      { kind: 'node', says: 'Pantry (127.0.0.1) is silent; light is still sent to it.', fault: true },
    ])
    expect(nodeEvents(one.wires, network(node(true)), sent, EIGHT + 1).said).toEqual([])
    expect(nodeEvents(one.wires, network(node(false)), sent, EIGHT + 8000).said).toEqual([
      { kind: 'node', says: 'Pantry (127.0.0.1) answers again after 8.0 s.' },
    ])
  })

  it('with the house: its blackout, and its desk that is not heard any more', () => {
    const house = (state: EngineStatus['house']['state'], blackout = false) => ({
      house: { ...quiet.house, state, blackout },
    })
    const said = night(
      house('waiting'),
      house('heard'),
      house('heard', true),
      house('lost', true),
      house('heard'),
    )
    expect(said.map(event => event.says)).toEqual([
      'The desk of the house is heard.',
      'The house blacks out.',
      'The desk of the house is not heard any more; what it held stays.',
      'The house lets the light come back.',
      'The desk of the house is heard again.',
    ])
  })

  it('with power: each box once a song', () => {
    const box = Object.keys(documents.rig.boxes)[0]!
    const held = { powerHeld: [box] }
    expect(
      says(
        { song: 'kettle' },
        held,
        { powerHeld: [] },
        held,
        { song: null, powerHeld: [] },
        { song: 'kettle', ...held },
      ),
    ).toEqual([
      expect.stringContaining('stands'),
      `${documents.rig.boxes[box]!.name} is held back by its power limit.`,
      expect.stringContaining('stands ready'),
      `${documents.rig.boxes[box]!.name} is held back by its power limit.`,
    ])
  })
})

describe('the log as it is read', () => {
  const events = night(
    { song: 'kettle' },
    { playing: true },
    output(0),
    output(1, 'He said "no", =and left'),
    {
      playing: false,
      song: null,
    },
  )

  it('every event is one that can be read back, and a damaged line loses only itself', () => {
    for (const event of events) expect(nightEventSchema.parse(event)).toEqual(event)
    const text = events.map(event => JSON.stringify(event)).join('\n')
    expect(parseNight(`${text}\n{"at":"20`)).toEqual({ events, damaged: 1 })
  })

  it('chapters follow the songs; text and table hold every event', () => {
    expect(chaptersOf(events).map(chapter => chapter.song)).toEqual([kettle!.title])
    expect(nightText('2031-05-04', events, 120).split('\n')).toContain(
      `  22:00:00    ${kettle!.title} stands ready.`,
    )
    const rows = nightCsv(events).trimEnd().split('\r\n')
    expect(rows.length).toBe(events.length + 1)
    expect(nightCsv(events)).toContain('"He said ""no"", =and left"')
    expect(nightCsv([{ ...events[0]!, says: '=1+1' }])).toContain(",'=1+1\r\n")
  })

  it('a night goes on until five in the morning', () => {
    expect(eveningOf(Date.UTC(2031, 4, 5, 4, 59), 0)).toBe('2031-05-04')
    expect(eveningOf(Date.UTC(2031, 4, 5, 5), 0)).toBe('2031-05-05')
    // In a zone two hours ahead it is five at 03:00 UTC.
    expect(eveningOf(Date.UTC(2031, 4, 5, 2, 59), 120)).toBe('2031-05-04')
    expect(eveningOf(Date.UTC(2031, 4, 5, 3), 120)).toBe('2031-05-05')
  })
})

describe('of the second laptop', () => {
  const partner = { name: 'Attic laptop', address: '10.0.0.8', heard: 40, ready: true }
  const pair = (change: Partial<UnderstudyStatus>): Partial<EngineStatus> => ({
    understudy: {
      ...noUnderstudy,
      state: 'leads',
      partner,
      says: 'Attic laptop follows, in step',
      ...change,
    },
  })

  it('says who follows, that it is gone, and who leads after a change of hands', () => {
    expect(
      says(
        {},
        pair({}),
        pair({ trip: 2 }),
        pair({ well: 'stop', says: 'Attic laptop is not heard: no understudy' }),
        pair({}),
        pair({ state: 'follows', says: 'Follows Attic laptop, in step' }),
        pair({ says: 'Attic laptop follows, in step' }),
      ),
    ).toEqual([
      'Attic laptop follows, in step.',
      'Attic laptop is not heard: no understudy.',
      'Attic laptop follows, in step.',
      'This laptop follows Attic laptop now.',
      'This laptop leads now. Attic laptop follows, in step.',
    ])
  })
})
