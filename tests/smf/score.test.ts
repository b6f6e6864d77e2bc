// The notes of a MIDI file as a song's score: each at its place, with the voice its channel and program ask for.

import { scoreNotes } from '@glowchart/shared/score/notes.ts'
import { songFromSmf } from '@glowchart/shared/smf/import.ts'
import { readSmf } from '@glowchart/shared/smf/read.ts'
import { voiceOf } from '@glowchart/shared/smf/score.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { describe, expect, it } from 'vitest'
import { counter, format0, format1, inShow, realFiles } from './files.ts'

const imported = (bytes: Uint8Array, score = true) => {
  const smf = readSmf(bytes, 'a file')
  return { smf, song: inShow(songFromSmf(smf, { title: 'Heard', ids: counter(), score, where: 'a file' })) }
}

describe('voices', () => {
  // General MIDI System Level 1 (MMA RP-003): percussion on channel 10; the basses are programs 33–40.
  it.each([
    [10, 1, 'drums'],
    [10, 34, 'drums'],
    [1, 33, 'bass'],
    [2, 40, 'bass'],
    [1, 32, 'chords'],
    [1, 41, 'chords'],
    [1, 1, 'chords'],
    [4, 57, 'lead'],
    [4, 88, 'lead'],
    [4, 89, 'chords'],
  ] as const)('channel %i, program %i plays %s', (channel, program, voice) => {
    expect(voiceOf(channel, program)).toBe(voice)
  })
})

describe('the score of an imported song', () => {
  // MMA RP-001 p. 12: programs 5 (electric piano), 46 (harp) and 70 (bassoon), counted from 0, on channels 1 to 3.
  it.each([
    ['format 0', format0],
    ['format 1', format1],
  ])('has the notes of the standard’s example with their voices (%s)', (_, bytes) => {
    const { song } = imported(bytes)
    const notes = scoreNotes(song, timelineOf(song))
    expect(
      notes.map(({ at, length, key, velocity, voice }) => [at / 960, length / 960, key, velocity, voice]),
    ).toEqual([
      [0, 4, 48, 96, 'lead'],
      [0, 4, 60, 96, 'lead'],
      [1, 3, 67, 64, 'chords'],
      [2, 2, 76, 32, 'chords'],
    ])
  })

  it('is left out unless it is asked for', () => {
    const { song } = imported(format0, false)
    expect(Object.values(song.sections).every(section => section.score === undefined)).toBe(true)
  })

  it.each(realFiles)('keeps every note of a real file: $name', ({ bytes }) => {
    const { smf, song } = imported(bytes)
    const timeline = timelineOf(song)
    const scale = 960 / smf.division
    const wanted = smf.tracks
      .flatMap(track => track.notes.map(({ at, key, velocity }) => [Math.round(at * scale), key, velocity]))
      .filter(([at]) => at! < timeline.length)
    const got = scoreNotes(song, timeline).map(({ at, key, velocity }) => [at as number, key, velocity])
    const order = (a: number[], b: number[]) => a[0]! - b[0]! || a[1]! - b[1]! || a[2]! - b[2]!
    expect(got.sort(order)).toEqual(wanted.sort(order as never))
  })
})
