// Tempo and meter of MIDI files, read by other people's parsers, against our maps.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { barStart, type MeterChange, meterMap } from '@glowchart/shared/time/meter.ts'
import { bpmAt, secondsAt, tempoMap, ticksAt } from '@glowchart/shared/time/tempo.ts'
import { seconds, ticks } from '@glowchart/shared/time/units.ts'
import { Midi } from '@tonejs/midi'
import fc from 'fast-check'
import { type MidiSetTempoEvent, writeMidi } from 'midi-file'
import { read } from 'midifile-ts'
import { describe, expect, it } from 'vitest'

const fixtures = createRequire(import.meta.url).resolve('midifile-ts/package.json')
const fixture = (name: string) => readFileSync(fixtures.replace('package.json', `fixtures/${name}`))
const hex = (text: string) =>
  Uint8Array.from(text.replaceAll(/\s/g, '').match(/../g)!, b => Number.parseInt(b, 16))

/** Our tempo map of a file, from the events midifile-ts 1.5.2 reads (not from @tonejs/midi's header). */
function tempoOf(bytes: Uint8Array) {
  const file = read(bytes)
  const scale = 960 / file.header.ticksPerBeat
  const changes = file.tracks.flatMap(track => {
    let at = 0
    return track.flatMap(event => {
      at += event.deltaTime
      if (event.type !== 'meta' || event.subtype !== 'setTempo') return []
      return [{ at: ticks(at * scale), bpm: 60e6 / event.microsecondsPerBeat }]
    })
  })
  // RP-001: 120 where a file says nothing (from memory).
  return { scale, changes, map: tempoMap(120, changes) }
}

describe('real MIDI files (carried by midifile-ts 1.5.2)', () => {
  it.each(['song.mid', 'tracks.mid'])('puts every tick of %s where @tonejs/midi 2.0.28 puts it', name => {
    const { header, tracks, durationTicks } = new Midi(fixture(name))
    const { scale, map, changes } = tempoOf(fixture(name))
    expect(changes.length).toBeGreaterThan(1)
    let compared = 0
    for (let tick = 0; tick <= durationTicks + 5000; tick += 13) {
      const theirs = header.ticksToSeconds(tick)
      expect(Math.abs(secondsAt(map, ticks(tick * scale)) - theirs)).toBeLessThan(1e-6)
      expect(Math.abs(ticksAt(map, seconds(theirs)) / scale - tick)).toBeLessThan(1e-3)
      compared++
    }
    for (const note of tracks.flatMap(track => track.notes)) {
      expect(Math.abs(secondsAt(map, ticks(note.ticks * scale)) - note.time)).toBeLessThan(1e-6)
      compared++
    }
    expect(compared).toBeGreaterThan(3000)
  })

  it('starts the bars of tracks.mid (4/4, 6/4, 1/4) where @tonejs/midi 2.0.28 counts them', () => {
    const { header } = new Midi(fixture('tracks.mid'))
    const changes = header.timeSignatures.map(
      ({ measures, timeSignature: [beats, unit] }) =>
        ({ bar: measures, meter: { beats, unit } }) as MeterChange,
    )
    expect(changes.map(change => change.bar)).toEqual([0, 2, 26, 27, 29])
    const map = meterMap({ beats: 4, unit: 4 }, changes)
    for (const { ticks: at, measures } of header.timeSignatures) expect(barStart(map, measures!)).toBe(at * 2)
  })
})

describe('the worked example of the Standard MIDI File specification (MMA RP-001, pp. 12–14)', () => {
  const format0 = hex(`
    4D546864 00000006 0000 0001 0060 4D54726B 0000003B 00FF580404021808 00FF510307A120 00C005 00C12E 00C246
    00923060 003C60 60914340 60904C20 8140823040 003C40 00814340 00804C40 00FF2F00`)
  const format1 = hex(`
    4D546864 00000006 0001 0004 0060 4D54726B 00000014 00FF580404021808 00FF510307A120 8300FF2F00
    4D54726B 00000010 00C005 8140904C20 81404C00 00FF2F00 4D54726B 0000000F 00C12E 60914340 82204300 00FF2F00
    4D54726B 00000015 00C246 00923060 003C60 83003000 003C00 00FF2F00`)

  it.each([
    { name: 'format 0', bytes: format0, size: 81 },
    { name: 'format 1', bytes: format1, size: 118 },
  ])('lasts one bar of 4/4 and two seconds in $name', ({ bytes, size }) => {
    expect(bytes).toHaveLength(size)
    const { header, durationTicks } = new Midi(bytes)
    const { scale, map } = tempoOf(bytes)
    expect(durationTicks).toBe(384)
    expect(secondsAt(map, ticks(durationTicks * scale))).toBeCloseTo(2, 12)
    const [beats, unit] = header.timeSignatures[0]!.timeSignature as [4, 4]
    expect(barStart(meterMap({ beats, unit }, []), 1)).toBe(durationTicks * scale)
  })
})

describe('tempo events', () => {
  // FF 51 03 tttttt, µs a quarter note (RP-001), values computed; 140 BPM is not a whole number of µs.
  it.each([
    { bytes: '07A120', micros: 500_000, bpm: 120 },
    { bytes: '0A2C2B', micros: 666_667, bpm: 89.999955 },
    { bytes: '07270E', micros: 468_750, bpm: 128 },
    { bytes: '068A1B', micros: 428_571, bpm: 140.00014 },
    { bytes: '0542FC', micros: 344_828, bpm: 173.999791 },
  ])('reads FF 51 03 $bytes as $bpm BPM', ({ bytes, micros, bpm }) => {
    const { map } = tempoOf(hex(`4D546864000000060000000100604D54726B0000000B 00FF5103${bytes} 00FF2F00`))
    expect(bpmAt(map, ticks(0))).toBeCloseTo(bpm, 5)
    expect(secondsAt(map, ticks(960))).toBeCloseTo(micros / 1e6, 12)
  })

  it('lasts 32 s for 6144 ticks of 96 a quarter at 500000 µs', () => {
    // mido 1.2.10, tick2second(6144, 96, 500000).
    expect(secondsAt(tempoMap(60e6 / 500_000, []), ticks((6144 * 960) / 96))).toBe(32)
  })

  it('agrees with @tonejs/midi 2.0.28 on files of many tempos, written by midi-file 1.2.4', () => {
    const event = fc.record({
      deltaTime: fc.integer({ min: 0, max: 4000 }),
      microsecondsPerBeat: fc.integer({ min: 150_000, max: 3_000_000 }),
    })
    fc.assert(
      fc.property(fc.array(event, { minLength: 1, maxLength: 40 }), events => {
        // @tonejs/midi takes the first tempo of a file for what comes before it: set one at the start.
        const track = events.map(
          (e, i): MidiSetTempoEvent => ({
            ...e,
            deltaTime: i === 0 ? 0 : e.deltaTime,
            meta: true,
            type: 'setTempo',
          }),
        )
        const end = { deltaTime: 0, meta: true, type: 'endOfTrack' } as const
        const header = { format: 0, numTracks: 1, ticksPerBeat: 480 } as const
        const bytes = Uint8Array.from(writeMidi({ header, tracks: [[...track, end]] }))
        const theirs = new Midi(bytes).header
        const { scale, map } = tempoOf(bytes)
        for (let tick = 0; tick < 160_000; tick += 1733) {
          expect(Math.abs(secondsAt(map, ticks(tick * scale)) - theirs.ticksToSeconds(tick))).toBeLessThan(
            1e-6,
          )
        }
      }),
    )
  })
})
