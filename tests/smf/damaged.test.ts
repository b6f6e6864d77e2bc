// Malformed, truncated and hostile MIDI files: refused by a coded error, in bounded time, whatever the bytes.

import { CodedError } from '@glowchart/shared/errors.ts'
import { songFromSmf } from '@glowchart/shared/smf/import.ts'
import { readSmf } from '@glowchart/shared/smf/read.ts'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { counter, format0, format1, hex, inShow, realFiles } from './files.ts'

const codeOf = (bytes: Uint8Array): string => {
  try {
    readSmf(bytes, 'song.mid')
    return 'read'
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    expect(error.where).toContain('song.mid')
    return error.code
  }
}
/** A file of format 0 at 96 ticks a quarter with one track of these events. */
const withEvents = (events: string): Uint8Array => {
  const size = hex(events).length.toString(16).padStart(8, '0')
  return hex(`4D546864 00000006 0000 0001 0060 4D54726B ${size} ${events}`)
}

it('refuses the worked example cut at any byte but the last', () => {
  for (const whole of [format0, format1]) {
    for (let length = 0; length < whole.length; length++) {
      const code = codeOf(whole.subarray(0, length))
      expect(code, `${length}`).toBe(length < 4 ? 'smf.notMidi' : 'smf.damaged')
    }
    expect(codeOf(whole)).toBe('read')
  }
})

it.each([
  ['text', hex('48656C6C6F'), 'smf.notMidi'],
  ['format 2', hex('4D546864 00000006 0002 0001 0060'), 'smf.format'],
  ['format 9', hex('4D546864 00000006 0009 0001 0060'), 'smf.format'],
  ['no tracks', hex('4D546864 00000006 0000 0000 0060'), 'smf.damaged'],
  ['65,535 tracks', hex('4D546864 00000006 0001 FFFF 0060'), 'smf.tooMany'],
  ['division 0', hex('4D546864 00000006 0000 0001 0000'), 'smf.division'],
  ['0 ticks a frame', hex('4D546864 00000006 0000 0001 E700'), 'smf.division'],
  ['27 frames a second', hex('4D546864 00000006 0000 0001 E528'), 'smf.division'],
  ['a header of 4 GB', hex('4D546864 FFFFFFFF 0000 0001 0060'), 'smf.damaged'],
  ['a header of 2 bytes', hex('4D546864 00000002 0000'), 'smf.damaged'],
  ['a track of 4 GB', hex('4D546864 00000006 0000 0001 0060 4D54726B FFFFFFFF 00FF2F00'), 'smf.damaged'],
  ['a text of 256 MB', withEvents('00FF01FFFFFF7F'), 'smf.damaged'],
  ['a time of five bytes', withEvents('8180808000 FF2F00'), 'smf.damaged'],
  ['running status before any status', withEvents('003C40'), 'smf.damaged'],
  ['a status byte in a note', withEvents('00903C90'), 'smf.damaged'],
  ['a real-time byte as an event', withEvents('00F8'), 'smf.damaged'],
  ['a time without an event', withEvents('00'), 'smf.damaged'],
  ['a tempo of two bytes', withEvents('00FF510207A1'), 'smf.damaged'],
  ['a tempo of 0', withEvents('00FF5103000000'), 'smf.tempo'],
  ['a bar of no beats', withEvents('00FF580400021808'), 'smf.meter'],
  ['beats of 2 to the power of 32', withEvents('00FF580404201808'), 'smf.meter'],
  ['more than 16 MiB', new Uint8Array(16 * 1024 * 1024 + 1), 'smf.tooLarge'],
])('refuses %s', (_, bytes, code) => {
  expect(codeOf(bytes)).toBe(code)
})

it('refuses more than a million events before making one object of them', () => {
  const events = new Uint8Array(3_200_000).fill(0x00)
  events.set([0x00, 0x90])
  const bytes = new Uint8Array([...withEvents('00FF2F00').subarray(0, 22), ...events])
  new DataView(bytes.buffer).setUint32(18, events.length)
  expect(codeOf(bytes)).toBe('smf.tooMany')
})

it('refuses or reads a text too long for the parser, never crashes on it', () => {
  const text = new Uint8Array(2_000_000).fill(65)
  const head = hex('4D546864 00000006 0000 0001 0060 4D54726B 00000000 00FF01FA8900')
  const bytes = new Uint8Array([...head, ...text])
  new DataView(bytes.buffer).setUint32(18, bytes.length - 22)
  expect(['read', 'smf.damaged']).toContain(codeOf(bytes))
})

const seeds = [format0, format1, ...realFiles.slice(0, 4).map(file => file.bytes)]
const mutated = fc
  .tuple(
    fc.constantFrom(...seeds),
    fc.array(fc.tuple(fc.nat(), fc.constantFrom('set', 'cut', 'insert'), fc.nat(255)), { maxLength: 4 }),
  )
  .map(([seed, changes]) => {
    let bytes = [...seed]
    for (const [place, kind, value] of changes) {
      const at = place % (bytes.length + 1)
      if (kind === 'set') bytes[at] = value
      else if (kind === 'insert') bytes.splice(at, 0, value)
      else if (value < 8) bytes = bytes.slice(0, at)
      else bytes.splice(at, 1)
    }
    return Uint8Array.from(bytes)
  })

it('answers any mutation with a song that validates or a coded error, within five seconds', () => {
  const seen = { read: 0, refused: 0 }
  fc.assert(
    fc.property(
      fc.oneof(
        { weight: 9, arbitrary: mutated },
        { weight: 1, arbitrary: fc.uint8Array({ maxLength: 200 }) },
      ),
      bytes => {
        const begun = performance.now()
        try {
          const smf = readSmf(bytes, 'song.mid')
          const choices = smf.tracks.map((_, track) => ({ track, part: 'bars' }))
          const song = songFromSmf(smf, { title: 'Fern Antenna', ids: counter(), where: 'song.mid' })
          inShow(song)
          songFromSmf(smf, { title: 'Fern Antenna', ids: counter(), cues: choices, where: 'song.mid' })
          seen.read++
        } catch (error) {
          if (!(error instanceof CodedError) || !error.code.startsWith('smf.')) throw error
          seen.refused++
        }
        expect(performance.now() - begun).toBeLessThan(5000)
      },
    ),
    { numRuns: 400 },
  )
  expect(seen.read).toBeGreaterThan(20)
  expect(seen.refused).toBeGreaterThan(20)
}, 120_000)
