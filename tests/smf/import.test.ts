// Songs made from Standard MIDI Files: bars, sections, tempo and cues, valid in a show and in time with the file.

import type { Meter } from '@glowchart/shared/show/song.ts'
import { songFromSmf } from '@glowchart/shared/smf/import.ts'
import { readSmf, type SmfSong } from '@glowchart/shared/smf/read.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { Midi } from '@tonejs/midi'
import { describe, expect, it } from 'vitest'
import { testIf } from '../support/not-run.ts'
import { counter, format1, inShow, partId, realFiles } from './files.ts'

const empty: SmfSong = {
  division: 480,
  timeCode: false,
  tempos: [],
  meters: [],
  programs: [],
  markers: [],
  cuePoints: [],
  tracks: [],
  length: 4 * 1920,
}
const made = (smf: Partial<SmfSong>, more: object = {}) =>
  inShow(
    songFromSmf({ ...empty, ...smf }, { title: 'Tin Meridian', ids: counter(), where: 'a.mid', ...more }),
  )
const sections = (song: ReturnType<typeof made>) =>
  song.sectionOrder.map(id => [song.sections[id]!.name, song.sections[id]!.bars])
const codeOf = (smf: Partial<SmfSong>, more: object = {}): string => {
  try {
    made(smf, more)
    return 'made'
  } catch (error) {
    return (error as { code: string }).code
  }
}

describe('a file without marks', () => {
  it('is 120 BPM and 4/4 in sections of 16 bars', () => {
    const song = made({ length: 40 * 1920 - 7 })
    expect(song).toMatchObject({ title: 'Tin Meridian', bpm: 120, meter: { beats: 4, unit: 4 } })
    expect(sections(song)).toEqual([
      ['Section 1', 16],
      ['Section 2', 16],
      ['Section 3', 8],
    ])
    expect(song.note).toBeUndefined()
  })

  it('has one bar even when it is empty', () => {
    expect(sections(made({ length: 0 }))).toEqual([['Section 1', 1]])
  })
})

describe('markers', () => {
  it('open sections at the nearest bar line, share one when they fall together, and leave the start a name', () => {
    const markers = [
      { at: 1910, text: 'Verse' },
      { at: 2 * 1920 - 1, text: 'Chorus' },
      { at: 2 * 1920 + 5, text: 'Loud' },
      { at: 3 * 1920 + 961, text: 'End' },
    ]
    const song = made({ markers })
    expect(sections(song)).toEqual([
      ['Start', 1],
      ['Verse', 1],
      ['Chorus / Loud', 2],
    ])
    expect(song.note).toContain('"End"')
  })

  it('give names that the document can hold, however long or empty', () => {
    const song = made({
      markers: [
        { at: 0, text: '' },
        { at: 1920, text: '🎺'.repeat(60) },
      ],
    })
    expect(sections(song)[0]![0]).toBe('Section 1')
    expect(sections(song)[1]![0]).toBe('🎺'.repeat(40))
  })
})

it('takes any title, and tidies it', () => {
  expect(made({}, { title: ' Été\n🎺 Ã© ' }).title).toBe('Été 🎺 Ã©')
  expect(made({}, { title: '\u0000' }).title).toBe('Untitled')
  expect(made({}, { title: `${'x'.repeat(79)}🎺` }).title).toBe('x'.repeat(79))
})

describe('meters', () => {
  const metersOf = (smf: Partial<SmfSong>) =>
    timelineOf(made(smf)).meters.map(({ at, meter }) => [at, `${meter.beats}/${meter.unit}`])

  it('change where the file changes them, and a bar cut short gets a meter of its own', () => {
    const meters = [
      { at: 0, beats: 3, unit: 4 },
      { at: 3 * 480 + 2 * 480, beats: 7, unit: 8 },
      { at: 5 * 480 + 4 * 1680 + 240, beats: 4, unit: 4 },
    ]
    expect(metersOf({ meters, length: 16000 })).toEqual([
      [0, '3/4'],
      [2880, '2/4'],
      [4800, '7/8'],
      [4800 + 4 * 3360, '1/8'],
      [4800 + 4 * 3360 + 480, '4/4'],
    ])
  })

  it('wait for the next bar where the cut bar has no meter, and the note says so', () => {
    const meters = [{ at: 1920 + 7, beats: 3, unit: 4 }]
    expect(metersOf({ meters })).toEqual([
      [0, '4/4'],
      [7680, '3/4'],
    ])
    expect(made({ meters }).note).toContain('inside bar 2')
  })

  it.each<[number, number]>([
    [65, 4],
    [4, 64],
  ])('are refused when a song cannot have them: %i/%i', (beats, unit) => {
    expect(codeOf({ meters: [{ at: 0, beats, unit: unit as Meter['unit'] }] })).toBe('smf.meter')
  })
})

describe('limits of the document', () => {
  it('cut a section of 2,500 bars and one of 1,000 tempo marks at bar lines, and lose nothing', () => {
    expect(sections(made({ length: 2500 * 1920, markers: [{ at: 0, text: 'Long' }] }))).toEqual([
      ['Long', 999],
      ['Long (2)', 999],
      ['Long (3)', 502],
    ])
    const tempos = Array.from({ length: 1000 }, (_, i) => ({ at: i * 96, microseconds: 500000 + i }))
    const song = made({ tempos, length: 1000 * 96, markers: [{ at: 0, text: 'Sway' }] })
    const marks = Object.values(song.sections).flatMap(section => section.tempo)
    expect(marks.length).toBe(999)
    expect(timelineOf(song).tempo.map(({ at }) => at)).toEqual(tempos.map(({ at }) => at * 2))
  })

  it('cut a section of 100 meters', () => {
    const meters = Array.from({ length: 100 }, (_, i) => ({
      at: i * 1920,
      beats: i % 2 ? 4 : 2,
      unit: i % 2 ? 4 : 2,
    }))
    const song = made({ meters, length: 100 * 1920, markers: [{ at: 0, text: 'Odd' }] })
    expect(sections(song)).toEqual([
      ['Odd', 65],
      ['Odd (2)', 35],
    ])
    expect(timelineOf(song).meters.length).toBe(100)
  })

  it('refuse 10,000 bars, 300 tempos in a bar, 20,001 cues and a track that is not there', () => {
    expect(codeOf({ length: 10_000 * 1920 })).toBe('smf.tooLong')
    const tempos = Array.from({ length: 300 }, (_, i) => ({ at: i, microseconds: 500000 + i }))
    expect(codeOf({ tempos })).toBe('smf.tooMany')
    const notes = Array.from({ length: 20_001 }, () => ({
      at: 0,
      length: 1,
      channel: 1,
      key: 1,
      velocity: 1,
    }))
    const cues = [{ track: 0, part: partId }]
    expect(codeOf({ tracks: [{ name: '', notes }] }, { cues })).toBe('smf.tooMany')
    expect(codeOf({}, { cues })).toBe('smf.track')
  })

  it('hold tempos to 20 to 400 BPM and say so', () => {
    const song = made({
      tempos: [
        { at: 0, microseconds: 60e6 / 15 },
        { at: 1920, microseconds: 100 },
      ],
    })
    expect([song.bpm, timelineOf(song).tempo.at(-1)!.bpm]).toEqual([20, 400])
    expect(song.note).toContain('20 to 400 BPM')
  })
})

describe('notes', () => {
  it('of the worked example of MMA RP-001 (pp. 12–14) become cues at their places', () => {
    const cues = [
      { track: 1, part: partId },
      { track: 3, part: partId, key: 60 },
    ]
    const song = inShow(
      songFromSmf(readSmf(format1, 'example.mid'), {
        title: 'Example',
        ids: counter(),
        cues,
        where: 'a.mid',
      }),
    )
    const [first, second] = song.trackOrder
    const placed = Object.values(song.sections[song.sectionOrder[0]!]!.cues)
    expect(placed.length).toBe(2)
    expect(placed.find(cue => cue.track === first)).toMatchObject({
      at: 1920,
      length: 1920,
      light: { level: 32 / 127, motion: { kind: 'sustain' } },
    })
    expect(placed.find(cue => cue.track === second)).toMatchObject({ at: 0, length: 3840 })
  })
})

const installed = testIf(
  realFiles.length > 0,
  'songs from real MIDI files',
  'apt-get install openttd-openmsx',
)
installed(
  'real files (Debian openttd-openmsx 0.4.2-1) become songs whose notes @tonejs/midi puts at the same time',
  () => {
    let cuesSeen = 0
    for (const { name, bytes } of realFiles) {
      const smf = readSmf(bytes, name)
      const cues = smf.tracks.map((_, track) => ({ track, part: partId }))
      const song = inShow(songFromSmf(smf, { title: name, ids: counter(), cues, where: name }))
      expect(song.note, name).toBeUndefined()
      const timeline = timelineOf(song)
      const header = new Midi(bytes).header
      const ends = header.ticksToSeconds(smf.length)
      expect(timeline.length).toBeGreaterThanOrEqual((smf.length * 960) / smf.division - 10)
      const at = (tick: number) => secondsAt(timeline.tempo, ticks((tick * 960) / smf.division))
      expect(Math.abs(at(smf.length) - ends), name).toBeLessThan(0.005)
      const starts = timeline.sections.flatMap(({ id, start }) =>
        Object.values(song.sections[id]!.cues).map(cue => secondsAt(timeline.tempo, ticks(start + cue.at))),
      )
      const theirs = smf.tracks.flatMap(track => track.notes.map(note => header.ticksToSeconds(note.at)))
      expect(starts.length).toBe(theirs.length)
      starts.sort((a, b) => a - b)
      theirs.sort((a, b) => a - b)
      expect(Math.max(...starts.map((start, i) => Math.abs(start - theirs[i]!))), name).toBeLessThan(0.005)
      cuesSeen += starts.length
    }
    expect(cuesSeen).toBeGreaterThan(10_000)
  },
  60_000,
)
