// A structure line typed by a musician becomes the sections of a song; what cannot be read is refused with its place.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { proposedMoods } from '@glowchart/shared/show/rough-in/proposed.ts'
import { readStructure, songFromStructure } from '@glowchart/shared/show/structure.ts'
import { describe, expect, it } from 'vitest'
import { counter } from '../smf/files.ts'

const line = 'Intro 8, Verse 16, Chorus 8, verse 12; Chorus\nSolo 2 4 bars, Outro 1 bar'
const song = (linked: boolean) =>
  songFromStructure({
    title: 'Paper Kites',
    bpm: 132,
    meter: { beats: 3, unit: 4 },
    sections: readStructure(line),
    linked,
    ids: counter(),
  })

const refusal = (text: string): CodedError => {
  try {
    readStructure(text)
  } catch (error) {
    if (error instanceof CodedError) return error
  }
  throw new Error(`"${text}" was not refused`)
}

describe('the structure line', () => {
  it('reads names and bars, and finds what comes again whatever its capitals', () => {
    expect(readStructure(line)).toEqual([
      { name: 'Intro', bars: 8, repeats: null },
      { name: 'Verse', bars: 16, repeats: null },
      { name: 'Chorus', bars: 8, repeats: null },
      { name: 'Verse', bars: 12, repeats: 1 },
      { name: 'Chorus', bars: 8, repeats: 2 },
      { name: 'Solo 2', bars: 4, repeats: null },
      { name: 'Outro', bars: 1, repeats: null },
    ])
  })

  it.each([
    ['', 'structure.empty', 'sections'],
    [' , ;\n', 'structure.empty', 'sections'],
    ['Intro 8, Verse', 'structure.bars', 'section 2, "Verse"'],
    ['Intro 0', 'structure.bars', 'section 1, "Intro 0"'],
    ['Intro 8, Verse 1000', 'structure.bars', 'section 2, "Verse 1000"'],
    ['Intro 8, 16', 'structure.name', 'section 2, "16"'],
    [`${'x'.repeat(81)} 8`, 'structure.name', `section 1, "${'x'.repeat(40)}"`],
    [Array.from({ length: 201 }, () => 'A 1').join(','), 'structure.tooMany', 'sections'],
  ])('refuses %j with %s', (text, code, where) => {
    expect(refusal(text)).toMatchObject({ code, where })
  })

  it.each([true, false])('makes a song that the show takes (linked: %s)', linked => {
    const value = song(linked)
    const { next } = applyEdit(demoBundle(), 'takeSong', { song: 'typed', value })
    const taken = next.show.songs.typed!
    expect(taken.sectionOrder.map(id => taken.sections[id]!.name)).toEqual(
      readStructure(line).map(section => section.name),
    )
    const copies = taken.sectionOrder.filter(id => taken.sections[id]!.sameAs)
    expect(copies).toHaveLength(linked ? 2 : 0)
    for (const id of copies) {
      expect(taken.sections[taken.sections[id]!.sameAs!.section]!.name).toBe(taken.sections[id]!.name)
    }
  })
})

describe('moods proposed from names', () => {
  it('covers every section that is not a copy, and roughs in the whole song', () => {
    const value = song(true)
    const moods = proposedMoods(value)
    expect(Object.keys(moods)).toEqual(value.sectionOrder.filter(id => !value.sections[id]!.sameAs))
    expect(Object.values(moods)).toEqual(['hushed', 'tender', 'driving', 'soaring', 'closing'])
    const { next } = applyEdit(demoBundle(), 'takeSong', { song: 'typed', value })
    const lit = applyEdit(next, 'roughIn', { song: 'typed', moods, seed: 7 }).next.show.songs.typed!
    for (const id of Object.keys(moods)) expect(Object.keys(lit.sections[id]!.cues)).not.toEqual([])
  })

  it('lets a verse and a chorus open up when they come again', () => {
    const value = song(false)
    expect(value.sectionOrder.map(id => proposedMoods(value)[id])).toEqual([
      'hushed',
      'tender',
      'driving',
      'rolling',
      'soaring',
      'soaring',
      'closing',
    ])
  })

  it('has a mood for names that say nothing', () => {
    const value = songFromStructure({
      title: 'Plain',
      bpm: 100,
      meter: { beats: 4, unit: 4 },
      sections: readStructure('Aa 4, Bb 4, Cc 4, Dd 4'),
      linked: true,
      ids: counter(),
    })
    expect(Object.values(proposedMoods(value))).toEqual(['hushed', 'rolling', 'driving', 'closing'])
  })
})
