// Audio whose beats are known: Debian's sonic-pi-samples (loops) and MIDI files of openttd-openmsx played by fluidsynth.

import { execFileSync } from 'node:child_process'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import tonejs from '@tonejs/midi'
import { openBrowser } from '../support/browser.ts'
import { tempFolder } from '../support/processes.ts'

// It is CommonJS: plain Node finds no names in it.
const { Midi } = tonejs

const LOOPS = '/usr/share/sonic-pi/samples'
const SONGS = '/usr/share/games/openttd/baseset/openmsx'
const FONT = '/usr/share/sounds/sf2/TimGM6mb.sf2'
const RATE = 44_100

export interface KnownBeats {
  readonly name: string
  /** One channel at 44,100 Hz. */
  readonly samples: Float32Array
  /** Times of its beats, s. */
  readonly truth: readonly number[]
  /** Beats a minute: of the loop, or the median of the file's. */
  readonly bpm: number
}

export const hasLoops = (): boolean => existsSync(LOOPS)
export const hasSongs = (): boolean =>
  existsSync(SONGS) && existsSync(FONT) && existsSync('/usr/bin/fluidsynth')

/**
 * Beats in the loops that have a beat. The package does not say; that a loop is cut to whole bars of four beats at
 * 80 to 160 BPM is our reading of their lengths, and metrical factors are allowed for.
 */
export const loopBeats: Readonly<Record<string, number>> = {
  loop_amen: 4,
  loop_amen_full: 16,
  loop_breakbeat: 4,
  loop_compus: 16,
  loop_electric: 4,
  loop_garzul: 16,
  loop_industrial: 2,
  loop_mehackit1: 4,
  loop_mehackit2: 4,
  loop_mika: 16,
  loop_safari: 16,
  loop_tabla: 24,
}

/** Loops, each repeated for `seconds`, decoded by a browser. */
export async function loops(names: readonly string[], seconds: number): Promise<KnownBeats[]> {
  const browser = await openBrowser()
  try {
    const page = await browser.newPage()
    const known: KnownBeats[] = []
    for (const name of names) {
      const file = readFileSync(join(LOOPS, `${name}.flac`)).toString('base64')
      const decoded = await page.evaluate(async text => {
        const bytes = Uint8Array.from(atob(text), c => c.charCodeAt(0))
        const buffer = await new OfflineAudioContext(2, 1, 44_100).decodeAudioData(bytes.buffer)
        const mixed = new Float32Array(buffer.length)
        for (let c = 0; c < buffer.numberOfChannels; c++) {
          const data = buffer.getChannelData(c)
          for (let i = 0; i < mixed.length; i++) mixed[i] = mixed[i]! + data[i]! / buffer.numberOfChannels
        }
        const out = new Uint8Array(mixed.buffer)
        let binary = ''
        for (let i = 0; i < out.length; i += 8192) binary += String.fromCharCode(...out.subarray(i, i + 8192))
        return btoa(binary)
      }, file)
      const bytes = Buffer.from(decoded, 'base64')
      const once = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length))
      const samples = Float32Array.from({ length: seconds * RATE }, (_, i) => once[i % once.length]!)
      const beat = once.length / RATE / loopBeats[name]!
      const truth = Array.from({ length: Math.floor(seconds / beat) }, (_, i) => i * beat)
      known.push({ name, samples, truth, bpm: 60 / beat })
    }
    return known
  } finally {
    await browser.close()
  }
}

export const songNames = (): string[] =>
  readdirSync(SONGS)
    .filter(name => name.endsWith('.mid'))
    .sort()

/** A MIDI file as fluidsynth plays it, its first `seconds`, with the quarter notes of its tempo map from its first note. */
export function playedSong(name: string, seconds: number): KnownBeats {
  const folder = tempFolder()
  try {
    const wav = join(folder.path, 'played.wav')
    const file = join(SONGS, name)
    const midi = new Midi(readFileSync(file))
    const end = midi.header.secondsToTicks(seconds)
    const settings = ['-ni', '-q', '-r', String(RATE), '-O', 's16', '-T', 'wav', '-R', '0', '-C', '0']
    // Without a closed input it waits for commands after the last note, and renders on.
    execFileSync('/usr/bin/fluidsynth', [...settings, '-F', wav, FONT, file], {
      stdio: 'ignore',
      timeout: 60_000,
    })
    const samples = readWave(readFileSync(wav), seconds)
    const first = Math.min(...midi.tracks.flatMap(track => track.notes.map(note => note.ticks)))
    const { ppq } = midi.header
    const truth: number[] = []
    for (let tick = Math.ceil(first / ppq) * ppq; tick <= Math.min(end, midi.durationTicks); tick += ppq) {
      const time = midi.header.ticksToSeconds(tick)
      if (time >= samples.length / RATE) break
      truth.push(time)
    }
    const gaps = truth.slice(1).map((time, i) => time - truth[i]!)
    const median = gaps.sort((a, b) => a - b)[gaps.length >> 1]!
    return { name: basename(name, '.mid'), samples, truth, bpm: 60 / median }
  } finally {
    folder.remove()
  }
}

/** 16-bit PCM of two channels, mixed. */
function readWave(bytes: Buffer, seconds: number): Float32Array {
  let at = 12
  while (bytes.toString('latin1', at, at + 4) !== 'data') at += 8 + bytes.readUInt32LE(at + 4)
  const from = at + 8
  const frames = Math.min(Math.floor((bytes.length - from) / 4), seconds * RATE)
  return Float32Array.from(
    { length: frames },
    (_, i) => (bytes.readInt16LE(from + 4 * i) + bytes.readInt16LE(from + 4 * i + 2)) / 65_536,
  )
}
