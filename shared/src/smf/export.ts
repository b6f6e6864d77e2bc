// A song's tempo map, meters and section names as a Standard MIDI File (MMA RP-001).

import { type MidiEvent, writeMidi } from 'midi-file'
import type { Meter, Song } from '../show/song.ts'
import { type Timeline, timelineOf } from '../time/timeline.ts'
import { TICKS_PER_BEAT, type Ticks } from '../time/units.ts'
import { chunk, joined } from './chunks.ts'
import { tempoSteps } from './tempo-steps.ts'
import { bytesOf } from './text.ts'

/** Events that midi-file is given at a time. */
const LOT = 256

/** An event of the file at a tick from its start. */
type Placed = { readonly at: Ticks; readonly event: Placeable }
type Placeable = MidiEvent extends infer E ? (E extends MidiEvent ? Omit<E, 'deltaTime'> : never) : never

/**
 * Writes a valid song as it stands on the chart (a vamp once): format 0, 960 ticks a quarter note, its title the track's
 * name, a marker at the start of every section, no notes. Glides become steps (`tempoSteps`); every time in the file
 * is within 1 ms of the song's.
 */
export function smfFromSong(song: Song): Uint8Array {
  const timeline = timelineOf(song)
  const placed: Placed[] = [
    { at: 0 as Ticks, event: { type: 'trackName', meta: true, text: bytesOf(song.title) } },
    ...meterEvents(timeline),
    ...tempoEvents(timeline),
    ...timeline.sections.map(({ id, start }) => {
      const text = bytesOf(song.sections[id]!.name)
      return { at: start, event: { type: 'marker', meta: true, text } as const }
    }),
    { at: timeline.length, event: { type: 'endOfTrack', meta: true } },
  ]
  placed.sort((a, b) => a.at - b.at)
  const track = placed.map(({ at, event }, i) => ({
    ...event,
    deltaTime: at - (placed[i - 1]?.at ?? 0),
  })) as MidiEvent[]
  return fileOf(track)
}

/**
 * The events as a file. midi-file copies all it has written so far for nearly every event, so it is given a few at a
 * time, each lot as the track of a file of its own (22 bytes come before it), and the lots are laid end to end.
 */
function fileOf(track: readonly MidiEvent[]): Uint8Array {
  const header = { format: 0, numTracks: 1, ticksPerBeat: TICKS_PER_BEAT } as const
  const lots: number[][] = []
  for (let i = 0; i < track.length; i += LOT)
    lots.push(writeMidi({ header, tracks: [track.slice(i, i + LOT)] }))
  const body = joined(lots.map(lot => lot.slice(22)))
  return joined([lots[0]!.slice(0, 14), chunk('MTrk', body)])
}

const meterEvents = ({ meters, length }: Timeline): Placed[] =>
  meters
    .filter(({ at }) => at < length)
    .map(({ at, meter }) => ({
      at,
      event: {
        type: 'timeSignature',
        meta: true,
        numerator: meter.beats,
        denominator: meter.unit,
        metronome: clocksPerClick(meter),
        thirtyseconds: 8,
      },
    }))

const tempoEvents = ({ tempo, length }: Timeline): Placed[] =>
  tempoSteps(tempo, length).map(({ at, microseconds }) => ({
    at,
    event: { type: 'setTempo', meta: true, microsecondsPerBeat: microseconds },
  }))

/** MIDI clocks (24 a quarter note) in a click: a beat, and in 6/8, 9/8 and 12/8 a dotted quarter. */
function clocksPerClick({ beats, unit }: Meter): number {
  return unit === 8 && beats > 3 && beats % 3 === 0 ? 36 : 96 / unit
}
