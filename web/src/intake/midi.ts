// A Standard MIDI File on its way into the show: read in the page, tracks named, and what is made of it.

import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { songFromSmf } from '@glowchart/shared/smf/import.ts'
import { readSmf, type SmfSong } from '@glowchart/shared/smf/read.ts'
import { inside } from './take.ts'

export interface MidiFile {
  readonly name: string
  readonly smf: SmfSong
}

export interface MidiChoice {
  readonly title: string
  /** By track: the part that its notes become cues of. */
  readonly parts: Readonly<Record<number, string>>
  /** Its notes are the song's music to listen to. */
  readonly score: boolean
}

type Outcome<T> =
  | { readonly value: T; readonly fault: null }
  | { readonly value: null; readonly fault: Problem }

/** What a song may weigh on its way to the server, bytes; the server takes 4 MiB a message. */
const MOST_BYTES = 4_000_000

export async function readMidiFile(file: File): Promise<Outcome<MidiFile>> {
  let bytes: Uint8Array
  try {
    bytes = new Uint8Array(await file.arrayBuffer())
  } catch (error) {
    return { value: null, fault: problem('file.unreadable', String(error), file.name) }
  }
  return outcome(() => ({ name: file.name, smf: readSmf(bytes, file.name) }))
}

export const songOfMidi = ({ name, smf }: MidiFile, { title, parts, score }: MidiChoice): Outcome<Song> =>
  outcome(() => {
    const cues = Object.entries(parts).map(([track, part]) => ({ track: Number(track), part }))
    const song = songFromSmf(smf, { title, ids: inside, cues, score, where: name })
    const size = new TextEncoder().encode(JSON.stringify(song)).length
    if (size > MOST_BYTES) {
      const says = `the song would take ${(size / 1e6).toFixed(1)} MB; ${MOST_BYTES / 1e6} MB is the most`
      throw new CodedError('smf.tooMany', says, name)
    }
    return song
  })

function outcome<T>(make: () => T): Outcome<T> {
  try {
    return { value: make(), fault: null }
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    return { value: null, fault: error.problem }
  }
}

/** What a file is called without its ending: a first title. */
export const titleOf = (name: string): string => name.replace(/\.midi?$/i, '').slice(0, 80) || 'Untitled'
