// The cue sheet in words: what begins where, what goes dark, and that copies say what they repeat.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { lightSchema } from '@glowchart/shared/light/schema.ts'
import { type CueSection, cueSheet } from '@glowchart/shared/paper/cue-sheet.ts'
import { cueWords } from '@glowchart/shared/paper/cue-words.ts'
import { cuePlaces, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'

const { show } = demoBundle()
const sheetOf = (song: string): CueSection[] => cueSheet(show, song, timelineOf(show.songs[song]!))
const four = { beats: 4, unit: 4 } as const

describe('what a cue does', () => {
  const chase = lightSchema.parse({
    level: 0.6,
    colours: {
      along: 'part',
      stops: [
        { at: 0, colour: { swatch: 'a' } },
        { at: 1, colour: { swatch: 'b' } },
      ],
    },
    motion: { kind: 'chase', rate: { ticks: 7680 } },
  })
  const swatches = { a: { name: 'Ember', hex: '#ff3300' }, b: { name: 'Cream', hex: '#ffddaa' } }

  it('is said as motion, colours, rate, level and fades', () => {
    const fadeIn = { length: ticks(1920), curve: 'even' as const, cut: ticks(0) }
    expect(cueWords(chase, { fadeIn }, swatches, four)).toBe(
      'chase, Ember to Cream, every 2 bars, at 60 %, in over 2 beats',
    )
  })

  it('counts in the meter that holds', () => {
    const seven = { beats: 7, unit: 8 } as const
    const rate = { ...chase, motion: { ...chase.motion, rate: { ticks: ticks(7 * 480) } } }
    expect(cueWords(rate, {}, swatches, seven)).toContain('every bar')
    expect(cueWords(rate, {}, swatches, four)).toContain('every 3.5 beats')
  })

  it('says a rate in Hz as a number a second, and a level of points by its ends', () => {
    const strobe = {
      ...chase,
      level: [
        { at: ticks(0), level: 0.2 },
        { at: ticks(960), level: 1 },
      ],
      motion: { ...chase.motion, kind: 'strobe' as const, rate: { hz: 2.5 } },
    }
    expect(cueWords(strobe, {}, swatches, four)).toBe('strobe, Ember to Cream, 2.5 a second, 20 % to 100 %')
  })
})

describe('the cue sheet', () => {
  it('has every section of every song, and names every cue of the sections that are no copies', () => {
    for (const id of show.songOrder) {
      const song = show.songs[id]!
      const timeline = timelineOf(song)
      const sheet = cueSheet(show, id, timeline)
      expect(sheet.map(section => section.section)).toEqual(song.sectionOrder)
      for (const place of cuePlaces(song, timeline)) {
        const track = song.tracks[place.cue.track]!
        if (track.muted || track.merge === 'mask' || song.sections[place.section]!.sameAs) continue
        const section = sheet.find(one => one.section === place.section)!
        const said = section.rows.flatMap(row => row.says)
        expect(said.some(line => line.startsWith(`${show.parts[track.part]!.name}: `))).toBe(true)
      }
    }
  })

  it('says what a copy repeats and which colours it changes', () => {
    const copy = sheetOf('porchlight').find(section => section.repeats)!
    expect(copy.repeats).toMatch(/^as C, Chorus 1, with .+ for .+/)
    expect(copy.rows).toEqual([])
  })

  it('says where a part goes dark and nothing follows', () => {
    const rows = sheetOf('porchlight').flatMap(section => section.rows)
    expect(rows.some(row => row.says.some(line => line.endsWith(': dark')))).toBe(true)
  })

  it('marks a pick-up, which begins before its section', () => {
    const rows = sheetOf('porchlight').flatMap(section => section.rows)
    expect(rows.some(row => row.bar.startsWith('↥ 24.'))).toBe(true)
  })
})
