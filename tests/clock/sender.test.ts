// MIDI clock going out: the right bytes, each once, at the right time; and read back by our own follower.

import { follow } from '@glowchart/shared/clock/follower.ts'
import { type Follower, follower } from '@glowchart/shared/clock/follower-state.ts'
import { midiParser, parseByte } from '@glowchart/shared/clock/parser.ts'
import { positionAt, unknownPosition } from '@glowchart/shared/clock/position.ts'
import {
  clockDue,
  clockSender,
  type SongMotion,
  songPositionBytes,
  type TimedBytes,
} from '@glowchart/shared/clock/sender.ts'
import { secondsAt, type TempoMap, tempoMap, ticksAt } from '@glowchart/shared/time/tempo.ts'
import { seconds, type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'
import { random } from '../support/random.ts'

const playing = (tempo: TempoMap, place = 0, at = 1000, speed = 1): SongMotion => ({
  playing: true,
  at,
  place: ticks(place),
  speed,
  tempo,
})
const stopped = (tempo: TempoMap, at: number): SongMotion => ({ ...playing(tempo, 0, at), playing: false })

/** What is sent from 1000 ms on, in windows of a random length, as the motion is at the end of each. */
function sent(motionAt: (time: number) => SongMotion, until: number, seed = 1): TimedBytes[] {
  const next = random(seed)
  let sender = clockSender(1000)
  const all: TimedBytes[] = []
  for (let time = 1000; time < until; ) {
    time = Math.min(until, time + 1 + 30 * next())
    const step = clockDue(sender, motionAt(time), time)
    sender = step.sender
    all.push(...step.due)
  }
  return all
}
const pulses = (bytes: readonly TimedBytes[]): number[] =>
  bytes.filter(one => one.bytes[0] === 0xf8).map(one => one.at)
const others = (bytes: readonly TimedBytes[]): TimedBytes[] => bytes.filter(one => one.bytes[0] !== 0xf8)

describe('clock going out', () => {
  // 24 pulses a quarter note (MIDI 1.0): 2500 / BPM ms.
  it.each([
    [60, 41.667],
    [90, 27.778],
    [100, 25],
    [120, 20.833],
    [128, 19.531],
    [140, 17.857],
    [174, 14.368],
  ])('at %d BPM has a pulse every %f ms, the first with Start', (bpm, interval) => {
    const bytes = sent(() => playing(tempoMap(bpm, [])), 5000)
    expect(bytes.slice(0, 2)).toEqual([
      { at: 1000, bytes: [0xfa] },
      { at: 1000, bytes: [0xf8] },
    ])
    const times = pulses(bytes)
    expect(times).toHaveLength(Math.ceil(4000 / (2500 / bpm)))
    for (let i = 1; i < times.length; i++) expect(times[i]! - times[i - 1]!).toBeCloseTo(interval, 3)
  })

  it('names song position 256 as F2 00 02 (checked with the mido 1.2.10 package)', () => {
    expect(songPositionBytes(256)).toEqual([0xf2, 0x00, 0x02])
    expect(songPositionBytes(16383)).toEqual([0xf2, 0x7f, 0x7f])
  })

  it('begins elsewhere at the next sixteenth, after Song Position and Continue', () => {
    const tempo = tempoMap(120, [])
    const bytes = sent(() => playing(tempo, 16 * 3840 + 1), 1500)
    expect(bytes.slice(0, 2)).toEqual([
      { at: 1000, bytes: [0xf2, 0x01, 0x02] },
      { at: 1000, bytes: [0xfb] },
    ])
    expect(bytes[2]!.bytes).toEqual([0xf8])
    expect(bytes[2]!.at).toBeCloseTo(1000 + 239 * (500 / 960), 6)
  })

  it('sends every pulse once through glides and changes of speed, whatever the windows', () => {
    const tempo = tempoMap(120, [
      { at: ticks(960), bpm: 174, glide: ticks(1920) },
      { at: ticks(4000), bpm: 60 },
    ])
    const slower = (time: number): SongMotion => {
      if (time < 2000) return playing(tempo)
      const place = ticksAt(tempo, seconds(1))
      return playing(tempo, place, 2000, 0.5)
    }
    for (let seed = 1; seed <= 20; seed++) {
      const bytes = sent(slower, 8000, seed)
      const times = pulses(bytes)
      expect(others(bytes)).toHaveLength(1)
      const end = ticksAt(tempo, seconds(1 + 6 * 0.5))
      expect(times).toHaveLength(Math.floor(end / 40) + 1)
      for (let i = 1; i < times.length; i++) expect(times[i]!).toBeGreaterThan(times[i - 1]!)
      const last = (times.length - 1) * 40
      expect(times.at(-1)!).toBeCloseTo(2000 + ((secondsAt(tempo, ticks(last)) - 1) * 1000) / 0.5, 6)
    }
  })

  it('stops with Stop, once; and moves while it plays by Stop, Song Position, Continue', () => {
    const tempo = tempoMap(120, [])
    const motion = (time: number): SongMotion =>
      time < 2000 ? playing(tempo) : time < 3000 ? playing(tempo, 9600, 2000) : stopped(tempo, 3000)
    expect(others(sent(motion, 4000)).map(one => one.bytes)).toEqual([
      [0xfa],
      [0xfc],
      [0xf2, 40, 0],
      [0xfb],
      [0xfc],
    ])
  })

  it('sends nothing before the song is due to start, and pulses alone past what Song Position can name', () => {
    const tempo = tempoMap(120, [])
    expect(clockDue(clockSender(0), playing(tempo, 0, 1000), 900).due).toEqual([])
    expect(others(sent(() => playing(tempo, 16384 * 240), 1200))).toEqual([])
    expect(pulses(sent(() => playing(tempo, 16384 * 240), 1200))).toHaveLength(10)
  })

  it('is followed to the tick by the follower', () => {
    const tempo = tempoMap(100, [{ at: ticks(3840), bpm: 150, glide: ticks(3840) }])
    const bytes = sent(() => playing(tempo, 1920), 9000)
    const prediction = { tempo, shift: 0 }
    let state: Follower = follower(0 as Ticks)
    let parser = midiParser
    for (const { at, bytes: some } of bytes) {
      for (const byte of some) {
        const step = parseByte(parser, byte, at)
        parser = step.parser
        if (step.message) state = follow(state, prediction, step.message)
      }
    }
    const truth = ticksAt(tempo, seconds(secondsAt(tempo, ticks(1920)) + 8))
    expect(positionAt(state, prediction, 9000, unknownPosition()).ticks).toBeCloseTo(truth, 6)
  })
})
