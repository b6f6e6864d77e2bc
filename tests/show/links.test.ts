// Sections that repeat others: cutting or moving a link changes no light and no time.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { beyond } from '@glowchart/shared/show/split.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { cuePlaces, timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Ticks } from '@glowchart/shared/time/units.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { random } from '../support/random.ts'
import { randomEdit } from './random-edits.ts'
import { sampleDocuments } from './samples.ts'

const song = (documents: Documents): Song => documents.show.songs.kettle!
const edit = (documents: Documents, name: string, args: object): Documents =>
  applyEdit(documents, name, { song: 'kettle', ...args }).next

/** The whole song as compiled, numbers to nine digits: a copy's trim is multiplied in once or before. */
function compiled({ rig, show }: Documents): unknown {
  const { tracks, timeline } = compileSong(rig, show, 'full', 'kettle')
  const near = (n: number): number => Math.round(n * 1e9)
  return {
    tempo: Array.from({ length: timeline.length / 240 }, (_, i) =>
      near(bpmAt(timeline.tempo, (i * 240) as Ticks)),
    ),
    bars: timeline.sections.map(({ start, end, bars }) => ({ start, end, bars })),
    tracks: tracks.map(track => ({
      ...track,
      cues: track.cues.map(({ level, pointLevel, originSeconds, ...cue }) => ({
        ...cue,
        originSeconds: near(originSeconds),
        gradientLength: cue.along === 'time' ? cue.gradientLength : null,
        levels: (pointLevel.length > 0 ? [...pointLevel] : [1]).map(l => near(level * l)),
      })),
    })),
  }
}

/** All that one section plays, counted from its start, whatever stands around it. */
function heard({ show }: Documents, id: string): unknown {
  const kettle = show.songs.kettle!
  const timeline = timelineOf(kettle)
  const { meters, tempo, sections } = timeline
  const span = sections.find(s => s.id === id)!
  const link = kettle.sections[id]!.sameAs
  const hexOf = (swatch: string): string => show.swatches[swatch]!.hex
  const cues = cuePlaces(kettle, timeline)
    .filter(place => place.section === id)
    .map(({ at, length, cue, sourceSection }) => {
      const taken = sourceSection === id ? undefined : link
      const { part } = kettle.tracks[cue.track]!
      const { colours, level, motion } =
        'look' in cue.light ? show.looks[cue.light.look]!.parts[part]! : cue.light
      const whole = ('look' in cue.light && cue.light.span) || cue.length
      const stops = colours.along === 'none' ? [{ at: 0, colour: colours.colour }] : colours.stops
      const points = typeof level === 'number' ? [{ at: -1, level }] : level
      return JSON.stringify({
        track: cue.track,
        at: at - span.start,
        length,
        origin: cue.origin,
        fades: [cue.fadeIn, beyond(cue.fadeOut, cue.length - length)],
        along: colours.along,
        lasts: colours.along === 'time' ? (colours.length ?? whole) : null,
        stops: stops.map(stop => ({
          at: stop.at,
          hex:
            'hex' in stop.colour
              ? stop.colour.hex
              : hexOf(taken?.swatches[stop.colour.swatch] ?? stop.colour.swatch),
        })),
        points: points.map(p => ({ at: p.at, level: Math.round(1e9 * p.level * (taken?.trim ?? 1)) })),
        motion: Object.entries(motion).sort(),
      })
    })
  const inside = meters.filter(m => m.bar > span.firstBar && m.bar < span.firstBar + span.bars)
  return {
    cues: cues.sort(),
    meter: meters.findLast(m => m.bar <= span.firstBar)!.meter,
    meters: inside.map(m => ({ bar: m.bar - span.firstBar, meter: m.meter })),
    tempo: Array.from({ length: Math.ceil((span.end - span.start) / 240) }, (_, i) =>
      Math.round(1e6 * bpmAt(tempo, (span.start + i * 240) as Ticks)),
    ),
  }
}

const copies = (documents: Documents, of: string): string[] =>
  song(documents).sectionOrder.filter(id => song(documents).sections[id]!.sameAs?.section === of)

describe('a section that repeats another', () => {
  it.each(['verse2', 'verse3', 'verse4'])(
    'unlinked, plays all it played (%s), and so does the rest of the song',
    id => {
      const before = sampleDocuments()
      const after = edit(before, 'unlinkSection', { section: id })
      expect(song(after).sections[id]!.sameAs).toBeUndefined()
      expect(compiled(after)).toEqual(compiled(before))
      for (const section of song(before).sectionOrder)
        expect(heard(after, section)).toEqual(heard(before, section))
    },
  )

  it('begins in its source’s tempo and meter: unlinked, it says so itself', () => {
    const before = edit(sampleDocuments(), 'setTempoMarks', { section: 'verse', tempo: [] })
    const slow = edit(before, 'setTempoMarks', { section: 'lift', tempo: [{ at: 0, bpm: 70 }] })
    const after = edit(slow, 'unlinkSection', { section: 'verse2' })
    expect(song(after).sections.verse2!.tempo).toEqual([{ at: 0, bpm: 96 }])
    expect(compiled(after)).toEqual(compiled(slow))
  })

  it('begins with a glide from its source’s tempo: unlinked, it steps there and glides on', () => {
    const glide = { at: 0, bpm: 140, glide: 3840 }
    const before = edit(sampleDocuments(), 'setTempoMarks', { section: 'verse', tempo: [glide] })
    const after = edit(before, 'unlinkSection', { section: 'verse2' })
    expect(song(after).sections.verse2!.tempo).toEqual([{ at: 0, bpm: 96 }, glide])
    expect(compiled(after)).toEqual(compiled(before))
    expect(heard(edit(before, 'deleteSection', { section: 'verse' }), 'verse4')).toEqual(
      heard(before, 'verse4'),
    )
  })

  it('with a track freed, plays the same until that track is changed', () => {
    const before = sampleDocuments()
    const after = edit(before, 'freeTrack', { section: 'verse2', track: 'tubes' })
    expect(compiled(after)).toEqual(compiled(before))
    const own = Object.values(song(after).sections.verse2!.cues).filter(cue => cue.track === 'tubes')
    expect(own).toHaveLength(2)
    const changed = edit(after, 'deleteCues', { cues: [{ section: 'verse', cue: 'v1' }] })
    expect(heard(changed, 'verse2')).toEqual(heard(after, 'verse2'))
    expect(heard(changed, 'verse4')).not.toEqual(heard(after, 'verse4'))
  })

  it('goes back under the link when a track is relinked: freeing and relinking is nothing', () => {
    const before = sampleDocuments()
    const freed = edit(before, 'freeTrack', { section: 'verse4', track: 'tubes' })
    expect(edit(freed, 'relinkTrack', { section: 'verse4', track: 'tubes' }).show).toEqual(before.show)
  })

  it('keeps its cues on the tracks it frees when it is linked, and gives up the others', () => {
    const before = sampleDocuments()
    const after = edit(before, 'linkSection', { section: 'end', to: 'verse', freed: ['tubes'] })
    expect(Object.keys(song(after).sections.end!.cues).sort()).toEqual(['e1', 'e2'])
    const bare = edit(before, 'linkSection', { section: 'end', to: 'verse' })
    expect(song(bare).sections.end!.cues).toEqual({})
    expect(song(bare).sections.end!.tempo).toEqual([])
  })

  it('cannot be repeated, nor repeat itself, nor take cues of its own on a track that is not freed', () => {
    const d = sampleDocuments()
    const code = (name: string, args: object) => {
      try {
        edit(d, name, args)
      } catch (error) {
        return (error as { code: string }).code
      }
      return null
    }
    expect(code('linkSection', { section: 'end', to: 'verse2' })).toBe('edit.invalid')
    expect(code('linkSection', { section: 'end', to: 'end' })).toBe('edit.invalid')
    expect(code('linkSection', { section: 'verse', to: 'end' })).toBe('edit.linked')
    const cue = { ...song(d).sections.end!.cues.e1!, at: 0 }
    expect(code('addCues', { section: 'verse2', cues: { x: cue } })).toBe('edit.linked')
    expect(code('addCues', { section: 'verse2', cues: { x: { ...cue, track: 'over' } } })).toBe(null)
    expect(code('insertBars', { section: 'verse2', bar: 0, count: 1 })).toBe('edit.linked')
  })
})

describe('deleting a section that others repeat', () => {
  it('gives the first copy all it held, with the swatches and trim of that copy, and changes no other', () => {
    const before = sampleDocuments()
    const after = edit(before, 'deleteSection', { section: 'verse' })
    expect(song(after).sections.verse).toBeUndefined()
    expect(song(after).sections.verse2!.sameAs).toBeUndefined()
    for (const id of ['verse2', 'verse3', 'verse4', 'end'])
      expect(heard(after, id)).toEqual(heard(before, id))
  })

  it('lets the other copies repeat the first where that changes nothing for them', () => {
    const before = edit(sampleDocuments(), 'relinkTrack', { section: 'verse2', track: 'over' })
    const after = edit(before, 'deleteSection', { section: 'verse' })
    expect(copies(after, 'verse2')).toEqual(['verse4'])
    expect(song(after).sections.verse4!.sameAs).toMatchObject({ swatches: {}, trim: 1 })
  })

  it('leaves the others the whole score where the first is shorter', () => {
    let before = edit(sampleDocuments(), 'addSection', {
      section: 'riff',
      name: 'Riff',
      bars: 8,
      before: null,
    })
    const phrase = { voice: 'bass', at: 0, length: 8 * 3360, every: 960, notes: [[0, 480, 40, 90]] }
    before = edit(before, 'setScore', { section: 'riff', score: [phrase] })
    for (const [as, bars] of [
      ['short', 4],
      ['long', 8],
    ] as const) {
      before = edit(before, 'duplicateSection', { section: 'riff', as, linked: true, before: null })
      before = edit(before, 'setSectionBars', { section: as, bars })
    }
    const after = song(edit(before, 'deleteSection', { section: 'riff' }))
    expect(after.sections.short!.score).toMatchObject([{ length: 4 * 3360 }])
    expect(after.sections.long!.score).toEqual(song(before).sections.riff!.score)
  })

  it('puts back in the others what the first had replaced, when nothing is lost by it', () => {
    let before = edit(sampleDocuments(), 'relinkTrack', { section: 'verse2', track: 'over' })
    before = edit(before, 'setLink', { section: 'verse2', swatches: { rust: 'plain' }, trim: 1 })
    // The look "wall" holds plain and rust: merged they cannot be told apart, so only its cues stand in the way.
    before = edit(before, 'deleteCues', {
      cues: [
        { section: 'verse', cue: 'v3' },
        { section: 'verse', cue: 'v4' },
      ],
    })
    const after = edit(before, 'deleteSection', { section: 'verse' })
    expect(copies(after, 'verse2')).toEqual(['verse3', 'verse4'])
    expect(song(after).sections.verse3!.sameAs!.swatches).toEqual({ plain: 'rust' })
    for (const id of ['verse2', 'verse3', 'verse4']) expect(heard(after, id)).toEqual(heard(before, id))
  })

  it('changes nothing in any copy, whatever the song has become', () => {
    let tried = 0
    fc.assert(
      fc.property(fc.integer(), seed => {
        const next = random(seed)
        let documents = sampleDocuments()
        for (let i = 0; i < 40; i++) {
          const { name, args } = randomEdit(documents, next, i)
          if (['deleteSong', 'deleteTrack', 'moveSection'].includes(name)) continue
          try {
            documents = applyEdit(documents, name, JSON.parse(JSON.stringify(args))).next
          } catch {
            // Refused: the next one may do.
          }
        }
        const sources = song(documents).sectionOrder.filter(id => copies(documents, id).length > 0)
        for (const source of sources) {
          const linked = copies(documents, source)
          let after: Documents
          try {
            after = edit(documents, 'deleteSection', { section: source })
          } catch (error) {
            // A pick-up may no longer fit before a section that has come to the front.
            expect((error as { code: string }).code).toBe('edit.invalid')
            continue
          }
          tried++
          const firstStays = song(after).sectionOrder[0] === song(documents).sectionOrder[0]
          if (firstStays) for (const id of linked) expect(heard(after, id)).toEqual(heard(documents, id))
        }
      }),
      { numRuns: 60 },
    )
    expect(tried).toBeGreaterThan(20)
  })
})

it('the timeline of the sample has what these tests rest on: a glide, a change of meter, a shorter copy', () => {
  const { sections, meters } = timelineOf(song(sampleDocuments()))
  expect(sections.map(s => s.end - s.start)).toEqual([15360, 28800, 7680, 28800, 22080, 28800, 6720])
  expect(meters.length).toBeGreaterThan(5)
})
