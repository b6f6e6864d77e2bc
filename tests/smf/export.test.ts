// Songs written as Standard MIDI Files, read back by two parsers of other people and by ours.

import type { Song } from '@glowchart/shared/show/song.ts'
import { smfFromSong } from '@glowchart/shared/smf/export.ts'
import { songFromSmf } from '@glowchart/shared/smf/import.ts'
import { readSmf } from '@glowchart/shared/smf/read.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { Midi } from '@tonejs/midi'
import fc from 'fast-check'
import { parseMidi } from 'midi-file'
import { describe, expect, it } from 'vitest'
import { song } from '../time/songs.ts'
import { counter, demoSongs } from './files.ts'

/** Seconds at a tick as midi-file's events give them: a sum of its own, without our tempo map. */
function clockOf(bytes: Uint8Array): (tick: number) => number {
  const changes: { at: number; seconds: number; perTick: number }[] = []
  let at = 0
  let seconds = 0
  let perTick = 0.5 / 960
  for (const event of parseMidi(bytes).tracks[0]!) {
    at += event.deltaTime
    seconds += event.deltaTime * perTick
    if (event.type === 'setTempo') perTick = event.microsecondsPerBeat / 1e6 / 960
    changes.push({ at, seconds, perTick })
  }
  return tick => {
    const change = changes.findLast(c => c.at <= tick)!
    return change.seconds + (tick - change.at) * change.perTick
  }
}

/** The largest difference in seconds between the song and both readings of its file, over `points` places. */
function worst(it: Song, points: number): number {
  const bytes = smfFromSong(it)
  const { tempo, length } = timelineOf(it)
  const { header } = new Midi(bytes)
  const clock = clockOf(bytes)
  let most = 0
  for (let i = 0; i <= points; i++) {
    const tick = Math.round((length * i) / points) as Ticks
    const due = secondsAt(tempo, tick)
    most = Math.max(most, Math.abs(clock(tick) - due), Math.abs(header.ticksToSeconds(tick) - due))
  }
  return most
}

describe('the times in a file', () => {
  it('are within 1 ms of the song’s, over every demo song', () => {
    expect(demoSongs.length).toBeGreaterThan(1)
    for (const demo of demoSongs) expect(worst(demo, 2000), demo.title).toBeLessThan(0.001)
  })

  it('are within 1 ms over two hours at a tempo that no whole microsecond gives', () => {
    expect(
      worst(song({ a: { bars: 999 }, b: { bars: 999 }, c: { bars: 999 } }, { bpm: 181.3 }), 5000),
    ).toBeLessThan(0.001)
  })

  it('are within 1 ms through steep glides', () => {
    const tempo = [
      { at: 0, bpm: 60 },
      { at: 960, bpm: 240, glide: 960 },
      { at: 7680, bpm: 20, glide: 3840 },
      { at: 19200, bpm: 400, glide: 61 },
    ]
    expect(worst(song({ a: { bars: 8, tempo } }), 30720)).toBeLessThan(0.001)
  })

  it('are within 1 ms whatever steps and glides a song has', () => {
    const mark = fc.record({
      at: fc.nat(8 * 3840),
      bpm: fc.double({ min: 20, max: 400, noNaN: true }),
      glide: fc.option(fc.integer({ min: 1, max: 8000 }), { nil: undefined }),
    })
    const marks = fc.uniqueArray(mark, { maxLength: 12, selector: m => m.at })
    let most = 0
    fc.assert(
      fc.property(marks, list => {
        const tempo = list.sort((a, b) => a.at - b.at)
        most = Math.max(most, worst(song({ a: { bars: 8, tempo } }), 1500))
        expect(most).toBeLessThan(0.001)
      }),
      { numRuns: 150 },
    )
  })
})

describe('what a file holds', () => {
  const units = [1, 2, 4, 8, 16, 32]
  const whole = song(
    {
      Verse: { bars: 6, meters: units.map((unit, bar) => ({ bar, meter: { beats: 3, unit } })) },
      pre: { name: 'Pré 🎺', bars: 2, meters: [{ bar: 0, meter: { beats: 6, unit: 8 } }] },
      again: { name: 'Again', bars: 6, sameAs: { section: 'Verse' } },
    },
    { title: 'Glass Orchard \ud83c', bpm: 140 },
  )

  it('is title, meters, tempo and markers, as midi-file 1.2.4 and @tonejs/midi 2.0.28 read it', () => {
    const bytes = smfFromSong(whole)
    const { sections, meters, length } = timelineOf(whole)
    const { header } = new Midi(bytes)
    expect(header.ppq).toBe(960)
    const due = meters.map(({ at, meter }) => ({ ticks: at, timeSignature: [meter.beats, meter.unit] }))
    expect(header.timeSignatures.map(({ ticks, timeSignature }) => ({ ticks, timeSignature }))).toEqual(due)
    expect(header.tempos[0]!.bpm).toBeCloseTo(140, 3)
    const events = parseMidi(bytes).tracks[0]!
    expect(events.at(-1)!.type).toBe('endOfTrack')
    expect(events.reduce((sum, event) => sum + event.deltaTime, 0)).toBe(length)
    // MMA RP-001: 140 BPM is 428571 µs, 07 A1 20 is 120 BPM; clocks a click of 6/8: 36.
    expect(events.find(event => event.type === 'setTempo')).toMatchObject({ microsecondsPerBeat: 428571 })
    const clicks = events.flatMap(event => (event.type === 'timeSignature' ? [event.metronome] : []))
    expect(clicks.slice(0, 7)).toEqual([96, 48, 24, 12, 6, 3, 36])
    const read = readSmf(bytes, 'out.mid')
    expect(read.markers).toEqual(
      sections.map(({ start }, i) => ({ at: start, text: ['Verse', 'Pré 🎺', 'Again'][i] })),
    )
    expect(read.tracks[0]!.name).toBe('Glass Orchard \ufffd')
  })

  it('is written in three seconds though it glides all the way', () => {
    const tempo = Array.from({ length: 200 }, (_, k) => ({
      at: k * 3840,
      bpm: k % 2 ? 60 : 240,
      glide: 3800,
    }))
    const long = song(Object.fromEntries(['a', 'b', 'c', 'd', 'e'].map(id => [id, { bars: 200, tempo }])))
    const begun = performance.now()
    const bytes = smfFromSong(long)
    expect(performance.now() - begun).toBeLessThan(3000)
    expect(parseMidi(bytes).tracks[0]!.length).toBeGreaterThan(20_000)
    expect(worst(long, 500)).toBeLessThan(0.001)
  })

  it('comes back as the same sections, meters and times', () => {
    for (const original of [whole, ...demoSongs]) {
      const read = readSmf(smfFromSong(original), 'out.mid')
      const back = songFromSmf(read, { title: original.title, ids: counter(), where: 'out.mid' })
      const a = timelineOf(original)
      const b = timelineOf(back)
      expect(b.length).toBe(a.length)
      expect(back.note).toBeUndefined()
      const bars = (t: typeof a) => t.sections.map(({ start, bars }) => [start, bars])
      expect(bars(b), original.title).toEqual(bars(a))
      for (let tick = 0; tick <= a.length; tick += 731) {
        expect(Math.abs(secondsAt(b.tempo, ticks(tick)) - secondsAt(a.tempo, ticks(tick)))).toBeLessThan(
          0.001,
        )
      }
    }
  })
})
