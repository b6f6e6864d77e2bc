// What a version lacks of a draft, in words, and taking some of it: by hand, and in long random sessions of edits.

import { CodedError } from '@glowchart/shared/errors.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, type EditArgs, type EditName } from '@glowchart/shared/show/edits.ts'
import { changeCount, changesBetween } from '@glowchart/shared/version/changes.ts'
import { mixOf } from '@glowchart/shared/version/mix.ts'
import { versionText } from '@glowchart/shared/version/request.ts'
import { sharing } from '@glowchart/shared/version/sharing.ts'
import type { Group } from '@glowchart/shared/version/take.ts'
import { describe, expect, it } from 'vitest'
import { randomEdit } from '../show/random-edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import { random } from '../support/random.ts'

const running = sampleDocuments()
const edited = <N extends EditName>(from: Documents, name: N, args: EditArgs<N>): Documents =>
  applyEdit(from, name, args).next
const text = ({ rig, show }: Documents) => versionText(rig, show)
const lines = (after: Documents) =>
  changesBetween(running, after).map(({ title, says }) => `${title}: ${says.join('; ')}`)

describe('what changed', () => {
  it('is said by song, section and cue, as a player would', () => {
    const song = 'kettle'
    const { sectionOrder, sections } = running.show.songs[song]!
    const section = sectionOrder.find(id => Object.keys(sections[id]!.cues).length > 1)!
    const [cue] = Object.keys(sections[section]!.cues)
    let draft = edited(running, 'setSectionBars', { song, section, bars: sections[section]!.bars + 2 })
    draft = edited(draft, 'renameCues', { song, cues: [{ section, cue: cue! }], name: 'Steam' })
    draft = edited(draft, 'renameSong', { song, title: 'Kettle fog' })
    draft = edited(draft, 'addSection', { song, section: 'coda', name: 'Coda', bars: 4, before: null })
    expect(lines(draft)).toEqual([
      expect.stringMatching(
        new RegExp(
          `^Kettle fog: Is called “Kettle fog”, was “Kettle weather”; . ${sections[section]!.name}: ` +
            `${sections[section]!.bars + 2} bars, was ${sections[section]!.bars}, 1 cue changed; . Coda added, 4 bars$`,
        ),
      ),
    ])
    expect(changeCount(changesBetween(running, draft))).toBe(3)
  })

  it('is said of looks, kit, set list and name in groups of their own', () => {
    const [look] = Object.keys(running.show.looks)
    const [part] = running.show.partOrder
    let draft = edited(running, 'renameLook', { look: look!, name: 'Embers' })
    draft = edited(draft, 'renamePart', { part: part!, name: 'Front row' })
    draft = edited(draft, 'setSetList', { list: 'late', value: { name: 'Late', songs: [] } })
    draft = edited(draft, 'setTonightList', { list: 'late' })
    draft = edited(draft, 'renameShow', { name: 'Moth Cabinet Two' })
    const was = running.show
    expect(lines(draft)).toEqual([
      `Looks and colours: Look “Embers”, was “${was.looks[look!]!.name}”`,
      `Kit, parts and patch: Part Front row, was ${was.parts[part!]!.name}`,
      'Set list and pedals: Tonight “Late”; Set list “Late” added',
      `Name and output: The show is called “Moth Cabinet Two”, was “${was.name}”`,
    ])
  })
})

describe('documents that came over a wire', () => {
  it('share with those at hand all that is equal, and nothing else, so that only what differs is compiled again', () => {
    const draft = edited(running, 'renameSong', { song: 'kettle', title: 'Kettle fog' })
    const sent = JSON.parse(JSON.stringify(draft)) as Documents
    expect(sharing(sent.rig, running.rig)).toBe(running.rig)
    const show = sharing(sent.show, running.show)
    expect(show).toStrictEqual(draft.show)
    expect(show.looks).toBe(running.show.looks)
    expect(show.songs.kettle!.sections).toBe(running.show.songs.kettle!.sections)
    expect(show.songs.kettle).not.toBe(running.show.songs.kettle)
    expect(sharing([1, { a: 1 }], [1])).toStrictEqual([1, { a: 1 }])
    expect(sharing({ a: 1 }, { a: 1, b: 2 })).toStrictEqual({ a: 1 })
  })
})

describe('taking a part of the draft', () => {
  it('takes one song and leaves the other edits out', () => {
    let draft = edited(running, 'renameSong', { song: 'kettle', title: 'Kettle fog' })
    draft = edited(draft, 'renameShow', { name: 'Another name' })
    const mix = mixOf(running, draft, { songs: ['kettle'], groups: [] })
    expect(text(mix)).toBe(text(edited(running, 'renameSong', { song: 'kettle', title: 'Kettle fog' })))
  })

  it('is refused where the song needs what is not taken, and says what to take with it', () => {
    const [part, light] = Object.values(running.show.looks).flatMap(one => Object.entries(one.parts))[0]!
    let draft = edited(running, 'addLook', { look: 'fresh', name: 'Fresh', parts: { [part]: light } })
    const song = 'kettle'
    const section = draft.show.songs[song]!.sectionOrder[0]!
    draft = edited(draft, 'addTrack', { song, track: 'extra', part, before: null })
    draft = edited(draft, 'addCues', {
      song,
      section,
      cues: { c1: { track: 'extra', at: 0, length: 960, light: { look: 'fresh' } } } as never,
    })
    const refused = () => mixOf(running, draft, { songs: [song], groups: [] })
    expect(refused).toThrow(CodedError)
    expect(refused).toThrow(/take “Looks and colours” too/)
    expect(mixOf(running, draft, { songs: [song], groups: ['looks'] }).show.looks.fresh).toBeDefined()
  })

  it('in long random sessions: something is said exactly when something differs, and all of it together is the draft', () => {
    let seen = 0
    for (let seed = 1; seed <= 30; seed++) {
      const next = random(seed)
      let draft = running
      for (let i = 0; i < 25; i++) {
        const { name, args } = randomEdit(draft, next, i)
        try {
          draft = applyEdit(draft, name, JSON.parse(JSON.stringify(args))).next
        } catch (error) {
          if (!(error instanceof CodedError)) throw error
        }
      }
      const changes = changesBetween(running, draft)
      expect(changes.length > 0).toBe(text(running) !== text(draft))
      for (const { says } of changes) {
        expect(says.length).toBeGreaterThan(0)
        expect(says.join()).not.toMatch(/undefined|\[object|NaN/)
      }
      const songs = changes.flatMap(({ of }) => ('song' in of ? of.song : []))
      const groups = changes.flatMap(({ of }): Group[] => ('group' in of ? [of.group] : []))
      expect(text(mixOf(running, draft, { songs, groups }))).toBe(text(draft))
      expect(text(mixOf(running, draft, { songs: [], groups: [] }))).toBe(text(running))
      seen += changes.length
    }
    expect(seen).toBeGreaterThan(60)
  })
})
