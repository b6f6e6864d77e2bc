// Fuzzed: the files that users bring (MIDI files, GDTF archives, recordings, timed bytes).

import { audioKind } from '@glowchart/server/app/audio-format.ts'
import { parseTimedBytes } from '@glowchart/server/midi/timed-bytes.ts'
import { openGdtf } from '@glowchart/shared/gdtf/archive.ts'
import { buildFromMode } from '@glowchart/shared/gdtf/build.ts'
import { readFixture } from '@glowchart/shared/gdtf/modes.ts'
import { audioSchema } from '@glowchart/shared/show/song.ts'
import { smfFromSong } from '@glowchart/shared/smf/export.ts'
import { songFromSmf } from '@glowchart/shared/smf/import.ts'
import { readSmf } from '@glowchart/shared/smf/read.ts'
import { strToU8, zipSync } from 'fflate'
import { archive, description } from '../gdtf/fixture.ts'
import { counter, demoSongs, format0, format1, inShow, partId } from '../smf/files.ts'
import { type Area, answer, outcome } from './area.ts'
import { spoiltBytes, spoiltText } from './spoil.ts'

export async function midiFiles(): Promise<Area> {
  const files = [format0, format1, ...demoSongs.slice(0, 2).map(smfFromSong)]
  return {
    one(next) {
      const bytes = spoiltBytes(files[Math.floor(next() * files.length)]!, next)
      const smf = answer(() => readSmf(bytes, 'fuzz.mid'))
      if (!smf) return 'refused'
      const cues = next() < 0.5 ? [] : [{ track: 0, part: partId, channel: 1 + Math.floor(next() * 16) }]
      const options = { title: 'Fuzz', ids: counter(), cues, score: next() < 0.5, where: 'fuzz.mid' }
      const song = answer(() => songFromSmf(smf, options))
      // What comes out of a file fits the show.
      if (song) inShow(song)
      return outcome(song)
    },
  }
}

/** Archives that would be large, lie about it, or name files outside. */
function hostileArchive(next: () => number): Uint8Array {
  const dice = next()
  if (dice < 0.02) return zipSync({ 'description.xml': new Uint8Array(20 * 1024 * 1024) })
  if (dice < 0.3) {
    const name = ['../../description.xml', '/description.xml', 'description.xml\0', 'C:\\description.xml'][
      Math.floor(next() * 4)
    ]!
    return zipSync({ [name]: strToU8(description) })
  }
  const deep = Math.floor(next() * 4000)
  const bombs = [
    description.replace('<GDTF', '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><GDTF'),
    `<GDTF><FixtureType>${'<a>'.repeat(deep)}${'</a>'.repeat(deep)}</FixtureType></GDTF>`,
    description.replace('Geometry="Cell"><Break', 'Geometry="Body"><Break'),
    description.replace(/Offset="\d+/g, () => `Offset="${Math.floor((next() - 0.2) * 1e6)}`),
  ]
  return zipSync({ 'description.xml': strToU8(bombs[Math.floor(next() * bombs.length)]!) })
}

export async function gdtfFiles(): Promise<Area> {
  const whole = archive()
  return {
    one(next) {
      const dice = next()
      const bytes =
        dice < 0.4
          ? spoiltBytes(whole, next)
          : dice < 0.85
            ? archive(spoiltText(description, next))
            : hostileArchive(next)
      const fixture = answer(() => readFixture(openGdtf(bytes, 'fuzz.gdtf'), 'fuzz.gdtf'))
      for (const mode of fixture?.modes ?? []) answer(() => buildFromMode(mode, 'fuzz.gdtf'))
      return outcome(fixture)
    },
  }
}

export async function recordings(): Promise<Area> {
  const heads = ['RIFF\0\0\0\0WAVEfmt ', 'ID3\x04\0\0', 'fLaC\0\0\0"', 'OggS\0\x02'].map(text =>
    strToU8(text),
  )
  const name = `${'a'.repeat(64)}.wav`
  const lines = '{"ms":0,"bytes":[248]}\n{"ms":20.8,"bytes":[144,60,100]}\n'
  return {
    one(next) {
      const dice = next()
      if (dice < 0.3)
        return audioKind(spoiltBytes(heads[Math.floor(next() * 4)]!, next)) ? 'taken' : 'refused'
      if (dice < 0.6) return outcome(answer(() => parseTimedBytes(spoiltText(lines, next), 'fuzz')))
      const file = spoiltText(name, next)
      const isName = audioSchema.shape.file.safeParse(file).success
      if (isName && /[^0-9a-z.]|\.\./.test(file)) throw new Error(`a name that leaves its folder: ${file}`)
      return isName ? 'taken' : 'refused'
    },
  }
}
