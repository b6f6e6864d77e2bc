// Standard MIDI Files as they are read: the standard's own examples, real files against other parsers, time code.

import { readSmf, type SmfSong } from '@glowchart/shared/smf/read.ts'
import { secondsAt, tempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { Midi } from '@tonejs/midi'
import { parseMidi, writeMidi } from 'midi-file'
import { describe, expect, it } from 'vitest'
import { testIf } from '../support/not-run.ts'
import { format0, format1, hex, realFiles } from './files.ts'

describe('the worked example (MMA RP-001, Standard MIDI Files 1.0, pp. 12–14)', () => {
  it.each([
    ['format 0', format0],
    ['format 1', format1],
  ])('reads %s: 96 ticks a quarter, 120 BPM, 4/4, four notes, 384 ticks', (_, bytes) => {
    const song = readSmf(bytes, 'example.mid')
    expect(song).toMatchObject({ division: 96, timeCode: false, length: 384 })
    expect(song.tempos).toEqual([{ at: 0, microseconds: 500000 }])
    expect(song.meters).toEqual([{ at: 0, beats: 4, unit: 4 }])
    const notes = song.tracks.flatMap(track => track.notes)
    expect(notes.sort((a, b) => a.channel - b.channel || a.key - b.key)).toEqual([
      { channel: 1, key: 76, at: 192, length: 192, velocity: 32 },
      { channel: 2, key: 67, at: 96, length: 288, velocity: 64 },
      { channel: 3, key: 48, at: 0, length: 384, velocity: 96 },
      { channel: 3, key: 60, at: 0, length: 384, velocity: 96 },
    ])
  })

  it('reads it as well with a chunk of a kind nobody knows between header and tracks', () => {
    const alien = hex('58595A5A 00000003 010203')
    const bytes = new Uint8Array([...format1.subarray(0, 14), ...alien, ...format1.subarray(14)])
    expect(readSmf(bytes, 'example.mid')).toEqual(readSmf(format1, 'example.mid'))
  })
})

describe('markers, cue points, names and time code', () => {
  const end = { deltaTime: 96, type: 'endOfTrack', meta: true } as const
  const file = (header: object, events: object[]) =>
    readSmf(
      Uint8Array.from(
        writeMidi({ header: { format: 0, numTracks: 1, ...header }, tracks: [[...events, end]] } as never),
      ),
      'x.mid',
    )

  it('reads markers, cue points and track names, in UTF-8 and in Latin-1', () => {
    const song = file({ ticksPerBeat: 96 }, [
      { deltaTime: 0, type: 'trackName', text: 'Dr\u00c3\u00bcms' },
      { deltaTime: 96, type: 'marker', text: 'Caf\u00e9\t bridge ' },
      { deltaTime: 10, type: 'cuePoint', text: 'Lights out' },
    ])
    expect(song.tracks[0]!.name).toBe('Drüms')
    expect(song.markers).toEqual([{ at: 96, text: 'Café bridge' }])
    expect(song.cuePoints).toEqual([{ at: 106, text: 'Lights out' }])
    expect(song.length).toBe(202)
  })

  // E7 28: 25 frames of 40 ticks, a tick a millisecond (MMA RP-001, the header's division; example from memory).
  it.each([
    [25, 40, 500],
    [24, 10, 120],
    [29, 100, (30000 / 1001) * 50],
    [30, 80, 1200],
  ])(
    'takes %i frames a second of %i ticks as %d ticks in half a second, whatever tempo is written',
    (framesPerSecond, ticksPerFrame, division) => {
      const tempo = { deltaTime: 0, type: 'setTempo', microsecondsPerBeat: 300000 }
      const song = file({ framesPerSecond, ticksPerFrame }, [tempo])
      expect(song).toMatchObject({ division, timeCode: true, tempos: [] })
    },
  )

  it('ends the earliest of two notes of one key, and ends what nothing ends with the track', () => {
    const on = (deltaTime: number) => ({
      deltaTime,
      type: 'noteOn',
      channel: 9,
      noteNumber: 36,
      velocity: 90,
    })
    const off = { deltaTime: 5, type: 'noteOff', channel: 9, noteNumber: 36, velocity: 0 }
    const { notes } = file({ ticksPerBeat: 96 }, [off, on(0), on(10), off]).tracks[0]!
    expect(notes.map(({ at, length, channel }) => [at, length, channel])).toEqual([
      [5, 15, 10],
      [15, 101, 10],
    ])
  })
})

/** Seconds at a tick of the file, by our tempo map. */
function timeOf(song: SmfSong): (tick: number) => number {
  const scale = 960 / song.division
  const changes = song.tempos.map(t => ({ at: ticks(t.at * scale), bpm: 60e6 / t.microseconds }))
  const map = tempoMap(120, changes)
  return tick => secondsAt(map, ticks(tick * scale))
}

/** How often each key was counted, less how often it was taken away. */
function counted(keys: readonly string[]) {
  const counts = new Map<string, number>()
  const add = (key: string, n: number) => counts.set(key, (counts.get(key) ?? 0) + n)
  for (const key of keys) add(key, 1)
  const below = () => [...counts].filter(([, n]) => n < 0).map(([key]) => key)
  const above = () => [...counts.values()].reduce((sum, n) => sum + Math.max(0, n), 0)
  return { add, below, above }
}

const installed = testIf(realFiles.length > 0, 'real MIDI files', 'apt-get install openttd-openmsx')
describe('real files (Debian openttd-openmsx 0.4.2-1)', () => {
  installed('have the tempo events that midi-file 1.2.4 reads, tick and microsecond', () => {
    let events = 0
    for (const { name, bytes } of realFiles) {
      const theirs = parseMidi(bytes).tracks.flatMap(track => {
        let at = 0
        return track.flatMap(event => {
          at += event.deltaTime
          return event.type === 'setTempo' ? [{ at, microseconds: event.microsecondsPerBeat }] : []
        })
      })
      expect(readSmf(bytes, name).tempos, name).toEqual(theirs.sort((a, b) => a.at - b.at))
      events += theirs.length
    }
    expect(realFiles.length).toBe(31)
    expect(events).toBeGreaterThan(31)
  })

  installed('last as long, and have every note, that @tonejs/midi 2.0.28 reads (5 ms)', () => {
    let notes = 0
    let other = 0
    for (const { name, bytes } of realFiles) {
      const song = readSmf(bytes, name)
      const theirs = new Midi(bytes)
      const secondsOf = timeOf(song)
      expect(Math.abs(secondsOf(song.length) - theirs.header.ticksToSeconds(song.length)), name).toBeLessThan(
        0.005,
      )
      const ours = song.tracks.flatMap(track => track.notes).map(note => `${note.key} ${note.at}`)
      const left = counted(ours)
      // @tonejs/midi leaves out a note that nothing ends; the ends themselves it pairs without regard to channels.
      for (const note of theirs.tracks.flatMap(track => track.notes))
        left.add(`${note.midi} ${note.ticks}`, -1)
      expect(left.below(), `${name}: notes that we lack`).toEqual([])
      other += left.above()
      notes += ours.length
    }
    expect(notes).toBeGreaterThan(10_000)
    expect(other).toBeLessThan(notes / 200)
  })

  installed('begin and end their notes where midi-file 1.2.4 reads them on and off, key and channel', () => {
    for (const { name, bytes } of realFiles) {
      const song = readSmf(bytes, name)
      for (const [i, events] of parseMidi(bytes).tracks.entries()) {
        const offs = new Set<string>()
        const ons: string[] = []
        let at = 0
        for (const event of events) {
          at += event.deltaTime
          if (event.type === 'noteOn') ons.push(`${event.channel + 1} ${event.noteNumber} ${at}`)
          if (event.type === 'noteOff') offs.add(`${event.channel + 1} ${event.noteNumber} ${at}`)
        }
        const open = song.tracks[i]!.notes.filter(note => {
          const end = note.at + note.length
          return end !== at && !offs.has(`${note.channel} ${note.key} ${end}`)
        })
        expect(open, name).toEqual([])
        expect(
          song.tracks[i]!.notes.map(note => `${note.channel} ${note.key} ${note.at}`),
          name,
        ).toEqual(ons)
      }
    }
  })

  // Read with mido 1.2.10, midi-file 1.2.4 and @tonejs/midi 2.0.28, which agree.
  installed('say of five of them what three other parsers say', () => {
    const read = (name: string) => readSmf(realFiles.find(file => file.name.includes(name))!.bytes, name)
    const bpms = (name: string) => read(name).tempos.map(t => Math.round(60e6 / t.microseconds))
    const chugga = read('chuggachugga')
    expect([...new Set(bpms('chuggachugga'))]).toEqual([180, 177, 120, 69])
    expect(chugga.meters).toEqual([])
    expect(Math.abs(timeOf(chugga)(chugga.length) - 83.868)).toBeLessThan(0.005)
    expect(read('boogi_marabi_redfarn').meters[0]).toMatchObject({ at: 0, beats: 3, unit: 4 })
    expect(bpms('boogi_marabi_redfarn')[0]).toBe(153)
    expect(read('the_hobo_redfarn').meters[0]).toMatchObject({ at: 0, beats: 6, unit: 4 })
    expect(bpms('the_hobo_redfarn')[0]).toBe(126)
    expect(bpms('coconut_run2')[0]).toBe(180)
    expect(bpms('mighty_giant_run')[0]).toBe(160)
  })
})
