// What a line's light is made of, as a short text: equal texts are equal pictures, wherever and whenever they were drawn.

import type { CompiledCue, CompiledSong, CompiledTrack } from '@glowchart/shared/render/compiled.ts'
import { secondsAt, ticksAt } from '@glowchart/shared/time/tempo.ts'
import { seconds, type Ticks, ticks } from '@glowchart/shared/time/units.ts'

/**
 * The content of a line between two ticks: every cue that sounds there, the tempo, the stage, the venue's limits and the grid of frames,
 * all counted from the line's start, so that a line that only moves along the song keeps its picture.
 * @param rate frames a second
 */
export function contentOf(song: CompiledSong, edges: readonly number[], rate: number): string {
  const { tempo } = song.timeline
  const start = ticks(edges[0]!)
  const end = ticks(edges.at(-1)!)
  const begins = secondsAt(tempo, start)
  // A column shows whole frames, and those at the ends reach over them.
  const from = ticksAt(tempo, seconds(begins - 1 / rate))
  const to = ticksAt(tempo, seconds(secondsAt(tempo, end) + 1 / rate))
  const sum = checksum()
  sum.add(stageSum(song))
  const { flashes, trim, highest } = song.venue
  sum.addAll({ flashes, trim, highest })
  sum.add(rate)
  const phase = (begins * rate) % 1
  sum.add(Math.round((phase < 0.999_999 ? phase : 0) * 1e6))
  sum.add(end - start)
  for (const [i, { at, bpm, slope }] of tempo.entries()) {
    const next = tempo[i + 1]?.at ?? Number.POSITIVE_INFINITY
    if (at >= to || next <= from) continue
    // A steady tempo that began earlier is the same tempo.
    sum.add(slope === 0 && at <= from ? 0 : at - start)
    sum.add(bpm)
    sum.add(slope)
  }
  for (const track of song.tracks) {
    sum.add(track.part)
    sum.add(track.merge)
    for (const cue of soundingBetween(track, from, to)) addCue(sum, cue, start, begins)
  }
  return sum.text()
}

function* soundingBetween(track: CompiledTrack, from: number, to: number): Generator<CompiledCue> {
  let first = 0
  let end = track.cues.length
  while (first < end) {
    const middle = (first + end) >> 1
    if (track.reach[middle]! <= from) first = middle + 1
    else end = middle
  }
  for (let i = first; i < track.cues.length && track.start[i]! < to; i++) {
    if (track.cues[i]!.end > from) yield track.cues[i]!
  }
}

function addCue(sum: Checksum, cue: CompiledCue, start: Ticks, begins: number): void {
  const { start: at, end, crossfadeEnd, origin, originSeconds, pointAt, gradient, mean, ...rest } = cue
  sum.add(at - start)
  sum.add(end - start)
  sum.add(crossfadeEnd - start)
  sum.add(origin - start)
  // Where the rate is in Hz, time counts: to a microsecond, as sums of seconds do not come out equal.
  sum.add(rest.hz > 0 ? Math.round((originSeconds - begins) * 1e6) : 0)
  for (const point of pointAt) sum.add(point - start)
  sum.add(tableSum(gradient))
  sum.add(tableSum(mean))
  sum.addAll(rest)
}

const tables = new WeakMap<ArrayLike<number>, string>()

/** Tables are shared by many cues. */
function tableSum(table: Float32Array | Float64Array): string {
  let known = tables.get(table)
  if (known === undefined) {
    const sum = checksum()
    for (const value of table) sum.add(value)
    known = sum.text()
    tables.set(table, known)
  }
  return known
}

const stages = new WeakMap<object, string>()

function stageSum({ stage, parts, power }: CompiledSong): string {
  let known = stages.get(parts)
  if (known === undefined) {
    const sum = checksum()
    sum.addAll(stage)
    sum.addAll(parts)
    // Without what a frame writes there.
    if (power) sum.addAll({ ...power, factor: 0 })
    known = sum.text()
    stages.set(parts, known)
  }
  return known
}

interface Checksum {
  add(value: number | string): void
  /** All that is in a plain value, the names of its fields left out. */
  addAll(value: unknown): void
  text(): string
}

const bits = new DataView(new ArrayBuffer(8))

/** 64 bits, mixed as FNV-1a does it, over two halves with the finish of MurmurHash3 between words. */
function checksum(): Checksum {
  let low = 0x811c9dc5
  let high = 0x9dc5811c
  const word = (value: number) => {
    low = Math.imul(low ^ value, 0x01000193)
    low ^= low >>> 15
    high = Math.imul(high ^ value, 0x85ebca6b)
    high = (high ^ (high >>> 13)) + low
  }
  const sum: Checksum = {
    add(value) {
      if (typeof value === 'number') {
        bits.setFloat64(0, value)
        word(bits.getInt32(0))
        word(bits.getInt32(4))
        return
      }
      word(value.length)
      for (let i = 0; i < value.length; i++) word(value.charCodeAt(i))
    },
    addAll(value) {
      if (typeof value === 'number' || typeof value === 'string') sum.add(value)
      else if (typeof value === 'boolean') word(value ? 1 : 2)
      else if (ArrayBuffer.isView(value)) {
        const all = value as Float64Array
        word(all.length)
        for (const one of all) sum.add(one)
      } else if (typeof value === 'object' && value !== null) {
        const all = Object.values(value)
        word(all.length)
        for (const one of all) sum.addAll(one)
      }
    },
    text: () => `${(low >>> 0).toString(36)}.${(high >>> 0).toString(36)}`,
  }
  return sum
}
