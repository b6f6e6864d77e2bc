// Reads a Standard MIDI File (MMA RP-001): what a song can be made from.

import { type MidiEvent, parseMidi } from 'midi-file'
import { CodedError } from '../errors.ts'
import { soundFile } from './structure.ts'
import { textOf } from './text.ts'

/** A note. `channel` is 1…16, `key` 0…127 (60 is middle C), `velocity` 1…127. */
export interface SmfNote {
  readonly at: number
  readonly length: number
  readonly channel: number
  readonly key: number
  readonly velocity: number
}

export interface SmfTrack {
  /** '' where the file gives none. */
  readonly name: string
  /** In order of their start. */
  readonly notes: readonly SmfNote[]
}

/** A place with a text: a marker (FF 06) or a cue point (FF 07). */
export interface SmfPlace {
  readonly at: number
  readonly text: string
}

/** What was read. Every `at` and `length` is in the file's own ticks, from its start. */
export interface SmfSong {
  /** Ticks in a quarter note. Where the file counts frames of time code: ticks in half a second, perhaps a fraction. */
  readonly division: number
  /** The file counts frames of time code: it has no tempo, and a quarter note is taken as half a second. */
  readonly timeCode: boolean
  /** Microseconds in a quarter note, exact, from each place on; 500000 (120 BPM) before the first. */
  readonly tempos: readonly { readonly at: number; readonly microseconds: number }[]
  /** The meter from each place on; 4/4 before the first. `unit` is any power of 2. */
  readonly meters: readonly { readonly at: number; readonly beats: number; readonly unit: number }[]
  /** Program changes of all tracks: `channel` 1…16, `program` 1…128 as the lists of programs count. */
  readonly programs: readonly { readonly at: number; readonly channel: number; readonly program: number }[]
  readonly markers: readonly SmfPlace[]
  readonly cuePoints: readonly SmfPlace[]
  readonly tracks: readonly SmfTrack[]
  /** Where the longest track ends. */
  readonly length: number
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] }

/**
 * Reads a file of format 0 or 1, of at most 16 MiB, 1,000 tracks and 1,000,000 events. Tempo, meters and markers may
 * stand in any track. A note-on of velocity 0 ends a note (the earliest of its key and channel that still sounds); a
 * note that nothing ends lasts until its track does. `where` names the file in errors.
 * @throws CodedError `smf.*`
 */
export function readSmf(bytes: Uint8Array, where: string): SmfSong {
  const { header, tracks } = parsed(soundFile(bytes, where), where)
  const frames = header.framesPerSecond
  const { ticksPerFrame = 1, ticksPerBeat = 1 } = header
  const song = {
    division: frames ? ((frames === 29 ? 30000 / 1001 : frames) * ticksPerFrame) / 2 : ticksPerBeat,
    timeCode: frames !== undefined,
    tempos: [] as { at: number; microseconds: number }[],
    meters: [] as { at: number; beats: number; unit: number }[],
    programs: [] as { at: number; channel: number; program: number }[],
    markers: [] as SmfPlace[],
    cuePoints: [] as SmfPlace[],
    tracks: [] as SmfTrack[],
    length: 0,
  }
  for (const events of tracks) {
    let at = 0
    let name = ''
    const notes = new Notes()
    for (const event of events) {
      at += event.deltaTime
      if (event.type === 'noteOn') notes.on(at, event.channel, event.noteNumber, event.velocity)
      else if (event.type === 'noteOff') notes.off(at, event.channel, event.noteNumber)
      else if (event.type === 'programChange') {
        song.programs.push({ at, channel: event.channel + 1, program: event.programNumber + 1 })
      } else if (event.type === 'trackName') name ||= textOf(event.text)
      else if (event.type === 'marker') song.markers.push({ at, text: textOf(event.text) })
      else if (event.type === 'cuePoint') song.cuePoints.push({ at, text: textOf(event.text) })
      else if (event.type === 'timeSignature') {
        song.meters.push({ at, beats: event.numerator, unit: event.denominator })
      } else if (event.type === 'setTempo' && !song.timeCode) {
        song.tempos.push({ at, microseconds: event.microsecondsPerBeat })
      }
    }
    song.tracks.push({ name, notes: notes.ended(at) })
    song.length = Math.max(song.length, at)
  }
  for (const list of [song.tempos, song.meters, song.programs, song.markers, song.cuePoints])
    list.sort((a, b) => a.at - b.at)
  return song
}

/** Notes of one track, while they sound and after. */
class Notes {
  readonly #all: Mutable<SmfNote>[] = []
  /** By channel and key: those begun, and how many of them have ended. */
  readonly #begun = new Map<number, { notes: Mutable<SmfNote>[]; ended: number }>()

  on(at: number, channel: number, key: number, velocity: number): void {
    const note = { at, length: -1, channel: channel + 1, key, velocity }
    this.#all.push(note)
    const slot = channel * 128 + key
    const begun = this.#begun.get(slot)
    if (begun) begun.notes.push(note)
    else this.#begun.set(slot, { notes: [note], ended: 0 })
  }

  off(at: number, channel: number, key: number): void {
    const begun = this.#begun.get(channel * 128 + key)
    const note = begun?.notes[begun.ended]
    if (!begun || !note) return
    note.length = at - note.at
    begun.ended++
  }

  ended(at: number): SmfNote[] {
    for (const note of this.#all) if (note.length < 0) note.length = at - note.at
    return this.#all
  }
}

function parsed(bytes: Uint8Array, where: string): ReturnType<typeof parseMidi> & { tracks: MidiEvent[][] } {
  try {
    return parseMidi(bytes)
  } catch (error) {
    // It throws plain strings, and a RangeError at a text too long for the stack.
    throw new CodedError('smf.damaged', `the file cannot be read: ${String(error).slice(0, 200)}`, where)
  }
}
