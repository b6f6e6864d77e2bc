// A song's score and its clicks: which notes sound, and when.

import { clicksIn, countIn } from '@glowchart/shared/score/clicks.ts'
import { firstFrom, scoreNotes } from '@glowchart/shared/score/notes.ts'
import { tapped, tappedTempo } from '@glowchart/shared/score/taps.ts'
import { songSchema } from '@glowchart/shared/show/song.ts'
import { meterMap } from '@glowchart/shared/time/meter.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'

const BAR = 3840

function notesOf(sections: Record<string, unknown>) {
  const song = songSchema.parse({
    title: 'Two Lamps',
    bpm: 120,
    meter: { beats: 4, unit: 4 },
    sections,
    sectionOrder: Object.keys(sections),
    tracks: {},
    trackOrder: [],
  })
  return scoreNotes(song, timelineOf(song)).map(n => [n.voice, n.at, n.length, n.key])
}

describe('the notes of a score', () => {
  it('repeat their pattern over the span of the phrase, from its origin on, and end with it', () => {
    const phrase = {
      voice: 'bass',
      at: 960,
      length: 2400,
      every: 960,
      origin: -480,
      notes: [
        [0, 480, 40, 90],
        [480, 960, 43, 90],
      ],
    }
    expect(notesOf({ a: { name: 'A', bars: 1, cues: {}, score: [phrase] } })).toEqual([
      ['bass', 960, 960, 43],
      ['bass', 1440, 480, 40],
      ['bass', 1920, 960, 43],
      ['bass', 2400, 480, 40],
      ['bass', 2880, 480, 43],
    ])
  })

  it('are those of its source in a copy, cut where the copy is shorter', () => {
    const phrase = { voice: 'drums', at: 0, length: 2 * BAR, every: BAR, notes: [[0, 120, 36, 100]] }
    const sections = {
      a: { name: 'A', bars: 2, cues: {}, score: [phrase] },
      b: { name: 'B', bars: 1, cues: {}, sameAs: { section: 'a' } },
      c: { name: 'C', bars: 1, cues: {} },
    }
    expect(notesOf(sections).map(n => n[1])).toEqual([0, BAR, 2 * BAR])
  })

  it('are none where the pattern holds none, and never before the song', () => {
    const phrase = { voice: 'lead', at: 0, length: BAR, every: BAR, origin: -1920, notes: [[0, 960, 60, 80]] }
    expect(notesOf({ a: { name: 'A', bars: 1, cues: {}, score: [phrase] } })).toEqual([
      ['lead', 1920, 960, 60],
    ])
    expect(notesOf({ a: { name: 'A', bars: 1, cues: {} } })).toEqual([])
  })

  it('are found by time', () => {
    const notes = [0, 10, 10, 20].map(at => ({ at: ticks(at) }))
    expect([-1, 0, 1, 10, 11, 21].map(at => firstFrom(notes, at))).toEqual([0, 0, 1, 1, 3, 4])
  })
})

describe('the click', () => {
  const accents = (beats: number, unit: 4 | 8 | 16) =>
    clicksIn(meterMap({ beats, unit }, []), ticks(0), ticks((beats * BAR) / unit))
      .map(c => ({ bar: 'B', beat: 'b', unit: '.' })[c.accent] + Math.round((c.at * unit) / BAR))
      .join(' ')

  it('marks bars and beats; compound meters in threes, uneven ones in twos and a three with the units between', () => {
    expect(accents(4, 4)).toBe('B0 b1 b2 b3')
    expect(accents(3, 4)).toBe('B0 b1 b2')
    expect(accents(5, 4)).toBe('B0 b1 b2 b3 b4')
    expect(accents(3, 8)).toBe('B0 b1 b2')
    expect(accents(6, 8)).toBe('B0 b3')
    expect(accents(12, 8)).toBe('B0 b3 b6 b9')
    expect(accents(8, 8)).toBe('B0 b2 b4 b6')
    expect(accents(5, 8)).toBe('B0 .1 b2 .3 .4')
    expect(accents(7, 8)).toBe('B0 .1 b2 .3 b4 .5 .6')
  })

  it('follows changes of meter, and gives each click to one window alone', () => {
    const meters = meterMap({ beats: 4, unit: 4 }, [{ bar: 1, meter: { beats: 7, unit: 8 } }])
    const whole = clicksIn(meters, ticks(0), ticks(3 * BAR))
    const windows = Array.from({ length: 90 }, (_, i) =>
      clicksIn(meters, ticks(i * 128), ticks((i + 1) * 128)),
    )
    expect(windows.flat()).toEqual(whole)
    expect(whole.filter(c => c.accent === 'bar').map(c => c.at)).toEqual([0, BAR, BAR + 3360, BAR + 6720])
  })

  it('counts in before the place, in the meter there', () => {
    const meters = meterMap({ beats: 4, unit: 4 }, [{ bar: 1, meter: { beats: 6, unit: 8 } }])
    expect(countIn(meters, ticks(0), 1).map(c => c.at)).toEqual([-3840, -2880, -1920, -960])
    expect(countIn(meters, ticks(BAR), 2).map(c => [c.at, c.accent])).toEqual([
      [-5760, 'bar'],
      [-4320, 'beat'],
      [-2880, 'bar'],
      [-1440, 'beat'],
    ])
    expect(countIn(meters, ticks(0), 0)).toEqual([])
  })
})

describe('a tapped tempo', () => {
  const taps = (...intervals: number[]) =>
    intervals.reduce((times, ms) => tapped(times, times.at(-1)! + ms), [1000] as number[])

  it('is told by three taps on, in beats as the meter is felt', () => {
    expect(tappedTempo(taps(500), { beats: 4, unit: 4 })).toBeNull()
    expect(tappedTempo(taps(500, 500), { beats: 4, unit: 4 })).toBe(120)
    expect(tappedTempo(taps(500, 500), { beats: 6, unit: 8 })).toBe(180)
    expect(tappedTempo(taps(500, 500), { beats: 7, unit: 8 })).toBe(120)
    expect(tappedTempo(taps(500, 500), { beats: 2, unit: 2 })).toBe(240)
  })

  it('is not moved by one slip, begins anew after a pause, and stays a tempo a song can have', () => {
    expect(tappedTempo(taps(600, 600, 450, 600, 600), { beats: 4, unit: 4 })).toBe(100)
    expect(taps(500, 500, 3000)).toHaveLength(1)
    expect(taps(...Array<number>(30).fill(500))).toHaveLength(9)
    expect(tappedTempo(taps(10, 10, 10), { beats: 4, unit: 4 })).toBe(400)
  })
})
