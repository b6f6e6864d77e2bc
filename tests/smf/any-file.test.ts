// Any well-formed Standard MIDI File becomes a valid song that keeps the file's time.

import type { Song } from '@glowchart/shared/show/song.ts'
import { songFromSmf } from '@glowchart/shared/smf/import.ts'
import { readSmf } from '@glowchart/shared/smf/read.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { Midi } from '@tonejs/midi'
import fc from 'fast-check'
import { writeMidi } from 'midi-file'
import { expect, it } from 'vitest'
import { counter, inShow, partId } from './files.ts'

const byte7 = fc.nat(127)
const channel = fc.nat(15)
const event = fc.oneof(
  fc.record({
    type: fc.constant('setTempo'),
    microsecondsPerBeat: fc.integer({ min: 150_000, max: 3_000_000 }),
  }),
  fc.record({
    type: fc.constant('timeSignature'),
    numerator: fc.integer({ min: 1, max: 13 }),
    denominator: fc.constantFrom(1, 2, 4, 8, 16, 32),
    metronome: fc.constant(24),
    thirtyseconds: fc.constant(8),
  }),
  fc.record({ type: fc.constant('marker'), text: fc.string({ maxLength: 100 }) }),
  fc.record({
    type: fc.constant('noteOn'),
    channel,
    noteNumber: byte7,
    velocity: fc.integer({ min: 1, max: 127 }),
  }),
  fc.record({ type: fc.constant('noteOff'), channel, noteNumber: byte7, velocity: byte7 }),
  fc.record({ type: fc.constant('sysEx'), data: fc.array(byte7, { maxLength: 5 }) }),
)
const file = fc
  .record({
    division: fc.constantFrom(1, 5, 24, 96, 120, 192, 384, 480, 960, 1000, 1024, 15360, 32767),
    events: fc.array(fc.tuple(fc.nat(4000), event), { maxLength: 120 }),
  })
  .map(({ division, events }) => {
    const track = events.map(([at, event]) => {
      const deltaTime = Math.round((at * division) / 960)
      return { deltaTime, ...event, ...('text' in event && { text: latin(event.text) }) }
    })
    // @tonejs/midi lets the first tempo hold from the start; the standard says 120 BPM until then.
    const first = { deltaTime: 0, type: 'setTempo', meta: true, microsecondsPerBeat: 500000 }
    const end = { deltaTime: division, type: 'endOfTrack', meta: true }
    const header = { format: 0, numTracks: 1, ticksPerBeat: division }
    return Uint8Array.from(writeMidi({ header, tracks: [[first, ...track, end]] } as never))
  })
const latin = (text: string): string => text.replace(/[^\0-\xff]/g, '?')

const cuesOf = (song: Song) => Object.values(song.sections).flatMap(section => Object.values(section.cues))

it('is valid in a show, has every cue in its own section, and is in time with @tonejs/midi 2.0.28', () => {
  fc.assert(
    fc.property(file, bytes => {
      const smf = readSmf(bytes, 'any.mid')
      const cues = [{ track: 0, part: partId }]
      const song = inShow(songFromSmf(smf, { title: 'Any', ids: counter(), cues, where: 'any.mid' }))
      const timeline = timelineOf(song)
      for (const { id, start, end } of timeline.sections) {
        for (const cue of Object.values(song.sections[id]!.cues)) {
          expect(cue.at).toBeGreaterThanOrEqual(0)
          expect(cue.at).toBeLessThan(end - start)
        }
      }
      expect(smf.tracks[0]!.notes.length - cuesOf(song).length).toBeLessThanOrEqual(1)
      const scale = 960 / smf.division
      // What a change of tempo can lose by standing on the nearest of 960 ticks: half a tick at the slowest, each.
      const tolerance = 1e-6 + (smf.tempos.length + 1) * (Number.isInteger(scale) ? 0 : 0.5 * (3 / 960))
      const { header } = new Midi(bytes)
      for (let tick = 0; tick <= smf.length; tick += Math.max(1, Math.floor(smf.length / 50))) {
        const ours = secondsAt(timeline.tempo, ticks(tick * scale))
        expect(Math.abs(ours - header.ticksToSeconds(tick))).toBeLessThanOrEqual(tolerance)
      }
    }),
    { numRuns: 200 },
  )
}, 60_000)
