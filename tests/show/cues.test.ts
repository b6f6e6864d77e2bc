// Cues moved, split, joined, pasted; looks placed, swatches deleted: what becomes of them, and what is refused.

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import type { Cue, Section, Song } from '@glowchart/shared/show/song.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { describe, expect, it } from 'vitest'
import { sampleDocuments } from './samples.ts'

const edit = (documents: Documents, name: string, args: object): Documents =>
  applyEdit(documents, name, { song: 'kettle', ...args }).next
const song = (documents: Documents): Song => documents.show.songs.kettle!
const section = (documents: Documents, id: string): Section => song(documents).sections[id]!
const cue = (documents: Documents, at: string, id: string): Cue => section(documents, at).cues[id]!
const refused = (name: string, args: object, documents = sampleDocuments()): string | null => {
  const before = JSON.stringify(documents)
  try {
    edit(documents, name, args)
  } catch (error) {
    expect(JSON.stringify(documents)).toBe(before)
    return (error as { code: string }).code
  }
  return null
}
const v2 = { section: 'verse', cue: 'v2' }

describe('moving cues', () => {
  it('past the section’s end puts them into the section they start in then', () => {
    // The verse is 28800 long; the lift after it is 7680.
    const after = edit(sampleDocuments(), 'moveCues', { cues: [v2], by: 28800 - 15360 + 480 })
    expect(section(after, 'verse').cues.v2).toBeUndefined()
    expect(cue(after, 'lift', 'v2').at).toBe(480)
  })

  it('up to a bar before the section keeps them there as pick-ups; further, they go to the section before', () => {
    // The bar before the verse is a 4/4 of the intro.
    const pickUp = edit(sampleDocuments(), 'moveCues', { cues: [v2], by: -15360 - 3840 })
    expect(cue(pickUp, 'verse', 'v2').at).toBe(-3840)
    const before = edit(sampleDocuments(), 'moveCues', { cues: [v2], by: -15360 - 3841 })
    expect(cue(before, 'intro', 'v2').at).toBe(15360 - 3841)
  })

  it('out of the song, or into a section that repeats another, is refused', () => {
    expect(refused('moveCues', { cues: [v2], by: -100_000 })).toBe('edit.outside')
    expect(refused('moveCues', { cues: [v2], by: 900_000 })).toBe('edit.outside')
    // A bar before the first section, and over by the song's start: nobody could find it again.
    const alone = { cues: [v2], section: 'intro' }
    expect(refused('moveCues', { ...alone, by: -15360 - 3360 })).toBe('edit.outside')
    expect(refused('moveCues', { ...alone, by: -15360 - 3359 })).toBe(null)
    const v3 = { section: 'verse', cue: 'v3' }
    expect(refused('moveCues', { cues: [v3], by: 28800 + 7680 })).toBe('edit.linked')
    // The track "over" is freed there.
    expect(refused('moveCues', { cues: [v2], by: 28800 + 7680 })).toBe(null)
  })

  it('to another track or section keeps their place', () => {
    const after = edit(sampleDocuments(), 'moveCues', {
      cues: [v2],
      track: 'tubes',
      section: 'intro',
      by: -15360,
    })
    expect(cue(after, 'intro', 'v2')).toMatchObject({ at: 0, track: 'tubes', length: 3360 })
    expect(refused('moveCues', { cues: [v2], track: 'gone' })).toBe('edit.missing')
  })
})

describe('stretching cues', () => {
  it('scales places, lengths, fades and level points alike, around a place that stays', () => {
    const before = sampleDocuments()
    const start = timelineOf(song(before)).sections.find(s => s.id === 'verse')!.start
    const shaped = edit(
      edit(before, 'setCueLevel', {
        cues: [{ section: 'verse', cue: 'v1' }],
        level: [
          { at: 0, level: 0.2 },
          { at: 960, level: 1 },
        ],
      }),
      'setCueFades',
      { cues: [{ section: 'verse', cue: 'v1' }], fadeOut: { length: 480, curve: 'soft' } },
    )
    const { v1, v2: other } = section(shaped, 'verse').cues
    const cues = [{ section: 'verse', cue: 'v1' }, v2]
    const after = section(edit(shaped, 'stretchCues', { cues, around: start, from: 2, to: 3 }), 'verse').cues
    expect(after.v1).toMatchObject({
      at: v1!.at * 1.5,
      length: v1!.length * 1.5,
      fadeOut: { length: 720, curve: 'soft' },
      light: {
        level: [
          { at: 0, level: 0.2 },
          { at: 1440, level: 1 },
        ],
      },
    })
    expect(after.v2).toMatchObject({ at: other!.at * 1.5, length: other!.length * 1.5 })
    const back = edit(edit(shaped, 'stretchCues', { cues, around: start, from: 2, to: 3 }), 'stretchCues', {
      cues,
      around: start,
      from: 3,
      to: 2,
    })
    expect(section(back, 'verse').cues).toEqual(section(shaped, 'verse').cues)
  })

  it('never leaves a cue without length, and is refused where a cue would leave the song', () => {
    const tiny = edit(sampleDocuments(), 'stretchCues', { cues: [v2], around: 0, from: 9000, to: 1 })
    const cues = Object.values(song(tiny).sections).flatMap(s => Object.entries(s.cues))
    expect(cues.find(([id]) => id === 'v2')![1].length).toBe(1)
    expect(refused('stretchCues', { cues: [v2], around: 0, from: 1, to: 900 })).toBe('edit.outside')
  })
})

describe('splitting and joining', () => {
  it('gives two halves that join to a cue of the same span, fades and points', () => {
    const before = sampleDocuments()
    const split = edit(before, 'splitCue', { section: 'verse', cue: 'v1', offset: 2000, right: 'half' })
    expect(cue(split, 'verse', 'v1').length).toBe(2000)
    expect(cue(split, 'verse', 'half')).toMatchObject({ at: 1040, length: 7000, origin: -2000 })
    const args = { left: { section: 'verse', cue: 'v1' }, right: { section: 'verse', cue: 'half' } }
    const joined = cue(edit(split, 'joinCues', args), 'verse', 'v1')
    const whole = cue(before, 'verse', 'v1')
    if ('look' in whole.light || 'look' in joined.light) throw new Error('v1 has its own light')
    expect(joined).toEqual({ ...whole, light: joined.light })
    expect(joined.light).toEqual({ ...whole.light, colours: { ...whole.light.colours, length: 9000 } })
  })

  it('past the section’s end puts the second half where it starts, unless a copy would lose it or gain it', () => {
    const cut = { section: 'verse', cue: 'v3', offset: 20_000, right: 'half' }
    expect(refused('splitCue', cut)).toBe('edit.linked')
    // It runs past the verse's end, and so past that of verse3, which is 6 bars of it and would lose the second half.
    expect(refused('splitCue', { ...cut, offset: 14_000 })).toBe('edit.linked')
    expect(refused('splitCue', { ...cut, offset: 2000 })).toBe(null)
    let alone = sampleDocuments()
    for (const copy of ['verse2', 'verse3', 'verse4']) alone = edit(alone, 'unlinkSection', { section: copy })
    expect(cue(edit(alone, 'splitCue', cut), 'lift', 'half').at).toBe(29_000 - 28_800)
    const repeated = edit(alone, 'linkSection', { section: 'end', to: 'lift' })
    expect(refused('splitCue', cut, repeated)).toBe('edit.linked')
  })

  it('outside the cue, or of cues that do not touch, is refused', () => {
    expect(refused('splitCue', { section: 'verse', cue: 'v1', offset: 9000, right: 'half' })).toBe(
      'edit.invalid',
    )
    expect(refused('splitCue', { section: 'verse', cue: 'v1', offset: 9, right: 'v2' })).toBe('edit.exists')
    expect(refused('joinCues', { left: { section: 'verse', cue: 'v1' }, right: v2 })).toBe('edit.invalid')
  })
})

describe('resizing', () => {
  it('from the start keeps the points of the level where they are on the chart', () => {
    const after = edit(sampleDocuments(), 'resizeCue', { section: 'end', cue: 'e1', at: 960, length: 6720 })
    const { light } = cue(after, 'end', 'e1')
    if ('look' in light || typeof light.level === 'number') throw new Error('e1 has points')
    expect(light.level.map(p => p.at)).toEqual([-960, 960, 2880])
  })
})

describe('looks on the chart', () => {
  it('placed, become a linked cue for each part, with a track for a part that has none', () => {
    const light = {
      level: 1,
      colours: { along: 'none', colour: { swatch: 'lime' } },
      motion: { kind: 'sustain' },
    }
    const wider = applyEdit(sampleDocuments(), 'setLookPart', { look: 'wall', part: 'back', light }).next
    const after = edit(wider, 'placeLook', { section: 'lift', at: 0, length: 7680, look: 'wall', as: 'p' })
    expect(section(after, 'lift').cues).toMatchObject({
      'p-1': { track: 'letters', at: 0, length: 7680, light: { look: 'wall' } },
      'p-2': { track: 'tubes', light: { look: 'wall' } },
      'p-3': { track: 'p-t3', light: { look: 'wall' } },
    })
    expect(song(after).tracks['p-t3']).toEqual({ part: 'back', merge: 'cover', muted: false })
    expect(song(after).trackOrder.at(-1)).toBe('p-t3')
  })

  it('deleted, leave their light to the cues', () => {
    const before = sampleDocuments()
    const { parts } = before.show.looks.wall!
    const after = applyEdit(before, 'deleteLook', { look: 'wall' }).next
    expect(cue(after, 'verse', 'v3').light).toEqual(parts.tubes)
    expect(cue(after, 'verse', 'v4').light).toEqual(parts.letters)
  })

  it('have the level of their cues; and a cue cannot take a look that has nothing for its part', () => {
    expect(refused('setCueLevel', { cues: [{ section: 'verse', cue: 'v3' }], level: 0.5 })).toBe('edit.look')
    expect(refused('linkCueToLook', { cues: [v2], look: 'bare' })).toBe('edit.look')
    expect(refused('setTrack', { track: 'letters', part: 'back' })).toBe('edit.invalid')
  })
})

describe('what is in use', () => {
  it('is not taken away: parts, builds, boxes, fixtures, tonight’s kit, replaced swatches, the last section', () => {
    expect(refused('deletePart', { part: 'tubes' })).toBe('edit.used')
    expect(refused('deletePart', { part: 'back' })).toBe(null)
    expect(refused('deleteBuild', { build: 'tube' })).toBe('edit.used')
    // Only a guest of a kit is of this build.
    expect(refused('deleteBuild', { build: 'head' })).toBe('edit.used')
    expect(refused('deleteBuild', { build: 'spare' })).toBe(null)
    expect(refused('deleteBox', { box: 'left' })).toBe('edit.used')
    expect(refused('deleteFixture', { fixture: 't1' })).toBe('edit.used')
    expect(refused('deleteFixture', { fixture: 't4' })).toBe(null)
    expect(refused('deleteKit', { kit: 'full' })).toBe('edit.used')
    expect(refused('deleteSwatch', { swatch: 'rust' })).toBe('edit.used')
    expect(refused('deleteSection', { song: 'ferrous', section: 'a' })).toBe('edit.last')
  })

  it('as a colour becomes that colour itself when the swatch is deleted', () => {
    const after = applyEdit(sampleDocuments(), 'deleteSwatch', { swatch: 'dusk' }).next
    expect(JSON.stringify(after.show)).not.toContain('"dusk"')
    const { light } = cue(after, 'verse2', 'w1')
    expect(light).toMatchObject({ colours: { colour: { hex: '#3a2a6a' } } })
  })

  it('a fixture stood in another socket leaves the one it stood in', () => {
    const stand = { fixture: 't1', place: { x: 1, y: 1, z: 1 } }
    const { show } = applyEdit(sampleDocuments(), 'setStand', {
      kit: 'full',
      box: 'right',
      socket: 's4',
      stand,
    }).next
    expect(show.kits.full!.boxes.left!.sockets.s1).toBeUndefined()
    expect(show.kits.full!.boxes.right!.sockets.s4).toMatchObject({
      fixture: 't1',
      turn: 0,
      trim: 1,
    })
  })
})

describe('an edit that cannot be', () => {
  it.each([
    ['sing', {}, 'edit.unknown', 'sing'],
    ['toString', {}, 'edit.unknown', 'toString'],
    ['renameSong', { song: 'kettle' }, 'edit.schema', 'renameSong: title'],
    ['setSong', { song: 'kettle', bpm: 'fast' }, 'edit.schema', 'setSong: bpm'],
    ['renameSong', { song: 'gone', title: 'x' }, 'edit.missing', 'Moth Cabinet'],
    ['addPart', { part: 'constructor', name: 'x' }, 'edit.schema', 'addPart: part'],
    [
      'addSong',
      {
        song: '__proto__',
        title: 'x',
        bpm: 100,
        meter: { beats: 4, unit: 4 },
        section: 'a',
        sectionName: 'A',
        bars: 4,
      },
      'edit.schema',
      'addSong: song',
    ],
    [
      'setLink',
      { song: 'kettle', section: 'verse2', swatches: { rust: 'gone' } },
      'edit.invalid',
      'Moth Cabinet: songs.kettle.sections.verse2.sameAs.swatches.rust',
    ],
  ])('%s %j is refused with %s at %s', (name, args, code, where) => {
    expect(() => applyEdit(sampleDocuments(), name, args)).toThrow(expect.objectContaining({ code, where }))
  })

  it('names what it does in words, for undo', () => {
    const d = sampleDocuments()
    const says = (name: string, args: object) => applyEdit(d, name, { song: 'kettle', ...args }).says
    expect(says('moveCues', { cues: [{ section: 'verse', cue: 'v1' }], by: 240 })).toBe('Move Wingbeat')
    expect(says('deleteCues', { cues: [v2, { section: 'verse', cue: 'v1' }] })).toBe('Delete 2 cues')
    expect(says('setCueFades', { cues: [v2], fadeIn: null })).toBe('Fades of a cue of Tubes')
    expect(says('setTrack', { track: 'over', muted: true })).toBe('Tubes, track 2')
  })
})

describe('taking back', () => {
  it('what someone has built on since is refused, and nothing is changed', () => {
    const d = sampleDocuments()
    const added = applyEdit(d, 'addSwatch', { swatch: 'new', name: 'New', hex: '#010203' })
    const light = {
      level: 1,
      colours: { along: 'none', colour: { swatch: 'new' } },
      motion: { kind: 'sustain' },
    }
    const used = applyEdit(added.next, 'setCueLight', { song: 'kettle', cues: [v2], light })
    expect(() => takeBack(used.next, added)).toThrow(expect.objectContaining({ code: 'edit.conflict' }))
    expect(takeBack(takeBack(used.next, used).next, added).next).toEqual(d)
  })

  it('what stands on the stage by now is not taken out of the rig', () => {
    const d = sampleDocuments()
    const value = { name: 'Tube 9', build: 'tube', serial: '9' }
    const bought = applyEdit(d, 'setFixture', { fixture: 't9', value })
    const args = { kit: 'full', part: 'tubes', fixtures: ['t9'] }
    const used = applyEdit(bought.next, 'setPartFixtures', args)
    expect(() => takeBack(used.next, bought)).toThrow(expect.objectContaining({ code: 'edit.conflict' }))
    expect(takeBack(takeBack(used.next, used).next, bought).next).toEqual(d)
  })

  it('what someone has changed since is refused, naming the place', () => {
    const d = sampleDocuments()
    const mine = applyEdit(d, 'renameSong', { song: 'kettle', title: 'Mine' })
    const theirs = applyEdit(mine.next, 'renameSong', { song: 'kettle', title: 'Theirs' })
    expect(() => takeBack(theirs.next, mine)).toThrow(
      expect.objectContaining({ code: 'edit.conflict', where: 'songs.kettle.title' }),
    )
  })
})
