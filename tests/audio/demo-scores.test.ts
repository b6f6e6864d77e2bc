// The music of the demo songs: every section has some, on the beat of its song, in reach of who plays it.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { type Note, scoreNotes } from '@glowchart/shared/score/notes.ts'
import { voices } from '@glowchart/shared/show/song.ts'
import { ticksPerBar } from '@glowchart/shared/time/meter.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { describe, expect, it } from 'vitest'

const { show } = demoBundle()

/** MIDI keys that each voice may play: what the instrument of the name reaches (common practice, no source). */
const reach = { drums: [35, 81], bass: [24, 52], chords: [33, 81], lead: [48, 88] } as const
/** Most notes of one voice at once: four limbs, one finger, two hands, one mouth. */
const hands = { drums: 5, bass: 1, chords: 5, lead: 1 } as const

describe.each(show.songOrder)('the score of the demo song %s', id => {
  const song = show.songs[id]!
  const timeline = timelineOf(song)
  const notes = scoreNotes(song, timeline)
  const between = (from: number, to: number): Note[] => notes.filter(n => n.at >= from && n.at < to)

  it('has music in every section, and by all four voices in the song', () => {
    for (const { id: section, start, end } of timeline.sections) {
      expect(between(start, end).length, section).toBeGreaterThan(0)
    }
    expect(new Set(notes.map(n => n.voice))).toEqual(new Set(voices))
  })

  it('repeats its patterns in whole bars or even parts of one, so that they keep to the bar lines', () => {
    const bar = ticksPerBar(song.meter)
    for (const [name, section] of Object.entries(song.sections)) {
      for (const { every, at, length, voice } of section.score ?? []) {
        const fits = every % bar === 0 || bar % every === 0
        expect(fits, `${name}, ${voice}: ${every / bar} bars`).toBe(true)
        expect(at % bar, name).toBe(0)
        expect(at + length, name).toBeLessThanOrEqual(section.bars * bar)
      }
    }
  })

  it('keeps to the reach and the hands of its players', () => {
    for (const { key, voice } of notes) {
      expect(key, voice).toBeGreaterThanOrEqual(reach[voice][0])
      expect(key, voice).toBeLessThanOrEqual(reach[voice][1])
    }
    for (const voice of voices) {
      const own = notes.filter(n => n.voice === voice)
      for (const note of own) {
        const together = own.filter(n => n.at <= note.at && note.at < n.at + n.length)
        expect(together.length, `${voice} at ${note.at}`).toBeLessThanOrEqual(hands[voice])
      }
    }
  })

  it('is loudest where its light is brightest: the choruses are played harder than the verses', () => {
    /** Sum of the squares of the velocities, a bar. */
    const force = (name: RegExp) => {
      const spans = timeline.sections.filter(s => name.test(s.id))
      const bars = spans.reduce((sum, s) => sum + s.bars, 0)
      return (
        spans.flatMap(s => between(s.start, s.end)).reduce((sum, n) => sum + (n.velocity / 127) ** 2, 0) /
        bars
      )
    }
    expect(force(/chorus|lift|landing/)).toBeGreaterThan(1.2 * force(/verse/))
  })
})
