// The rough-in: a first draft from a mood a section that is whole, calm where it should be, safe, and gone by one undo.

import { adviseShow } from '@glowchart/shared/advice/advise.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import { type Mood, moodNames, moodPlans } from '@glowchart/shared/show/rough-in/moods.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { brightest, playThrough } from '../demo/playthrough.ts'
import { bareSong, meters, moods, roughedIn, SONG, turnedMoods } from './rough-in-songs.ts'

const seeds = fc.integer({ min: 0, max: 0xffffffff })
const text = (documents: Documents): string => canonicalText(documents.show)

/** Mean linear light of every section with a mood: of all colours, cells and frames. */
function sectionMeans({ rig, show }: Documents): Map<string, number> {
  const { stage, light } = playThrough(rig, show, 'full', SONG)
  const timeline = timelineOf(show.songs[SONG]!)
  const values = 3 * stage.cells
  const frameAt = (tick: (typeof timeline)['length']) =>
    Math.floor(secondsAt(timeline.tempo, tick) * show.output.rate)
  return new Map(
    timeline.sections.map(({ id, start, end }) => {
      const span = light.subarray(frameAt(start) * values, frameAt(end) * values)
      return [id, span.reduce((sum, value) => sum + value, 0) / span.length]
    }),
  )
}

function refusalOf(act: () => unknown): CodedError {
  try {
    act()
  } catch (error) {
    if (error instanceof CodedError) return error
    throw error
  }
  throw new Error('it was not refused')
}

describe.each(Object.entries(meters))('in %s', (_, time) => {
  const bare = bareSong(time)

  it('reads back as it was written, and one undo restores every byte', () => {
    fc.assert(
      fc.property(seeds, seed => {
        const done = roughedIn(bare, seed)
        expect(parseShow(JSON.parse(text(done.next)), 'roughed in')).toStrictEqual(done.next.show)
        expect(text(takeBack(done.next, done).next)).toBe(text(bare))
      }),
      { numRuns: 20 },
    )
  })

  it('gives no advice at all, on either kit and at three frame rates, for many seeds', () => {
    fc.assert(
      fc.property(
        seeds,
        fc.nat(7),
        fc.constantFrom('full', 'fly'),
        fc.constantFrom(25, 40, 44),
        (seed, by, kit, rate) => {
          const { rig, show } = roughedIn(bare, seed, turnedMoods(by)).next
          const played = { ...show, output: { ...show.output, rate } }
          expect(adviseShow(rig, played, kit).map(a => a.says)).toEqual([])
        },
      ),
      { numRuns: 12 },
    )
  }, 60_000)

  it('lights every fixture somewhere', () => {
    for (const seed of [1, 2, 3]) {
      const { rig, show } = roughedIn(bare, seed).next
      const play = playThrough(rig, show, 'full', SONG)
      for (const [i, fixture] of play.stage.fixtures.entries()) {
        expect(brightest(play, i), fixture.name).toBeGreaterThan(0.05)
      }
    }
  })

  it('keeps quiet moods at less than four tenths of the light of driving ones', () => {
    for (const seed of [1, 2, 3, 4]) {
      const means = sectionMeans(roughedIn(bare, seed).next)
      for (const loud of ['last', 'refrain', 'again']) {
        for (const quiet of ['intro', 'verse', 'verse2', 'coda']) {
          expect(means.get(quiet)!, `${quiet} beside ${loud}`).toBeGreaterThan(0)
          expect(means.get(quiet)! / means.get(loud)!, `${quiet} beside ${loud}`).toBeLessThan(0.4)
        }
      }
    }
  })
})

const bare = bareSong(meters['four-four at 120'])

const anyMeter = fc.record({ beats: fc.integer({ min: 1, max: 13 }), unit: fc.constantFrom(2, 4, 8, 16) })
const anySong = fc.record({
  title: fc.constant('Any'),
  bpm: fc.integer({ min: 40, max: 240 }),
  meter: anyMeter,
  sections: fc.array(
    fc.record({
      bars: fc.integer({ min: 1, max: 9 }),
      mood: fc.constantFrom(...moodNames),
      vamp: fc.boolean(),
      change: fc.option(anyMeter),
    }),
    { minLength: 1, maxLength: 6 },
  ),
  tracks: fc.constant({}),
  trackOrder: fc.constant([]),
})

/** The demo's show with some of its parts only, on the full stage, and one song. */
function withSong(parts: readonly string[], song: object): Documents {
  const { rig, show } = bare
  const full = show.kits.full!
  const only = <T>(items: Record<string, T>) => Object.fromEntries(parts.map(id => [id, items[id]]))
  const kits = { full: { ...full, parts: only(full.parts) } }
  const changed = {
    ...show,
    partOrder: parts,
    parts: only(show.parts),
    kits,
    looks: {},
    songs: { [SONG]: song },
  }
  return { rig, show: parseShow(changed, 'any song') }
}

const cuesIn = ({ show }: Documents, section: string) =>
  Object.values(show.songs[SONG]!.sections[section]!.cues)

it('gives equal drafts for equal seeds and other ones for others', () => {
  fc.assert(
    fc.property(seeds, seeds, (a, b) => {
      expect(text(roughedIn(bare, a).next)).toBe(text(roughedIn(bare, a).next))
      if (a !== b) expect(text(roughedIn(bare, a).next)).not.toBe(text(roughedIn(bare, b).next))
    }),
    { numRuns: 20 },
  )
})

it('lights few parts in quiet moods and all of them in the open ones', () => {
  const { next } = roughedIn(bare, 7)
  const { tracks } = next.show.songs[SONG]!
  const partsIn = (section: string) => new Set(cuesIn(next, section).map(cue => tracks[cue.track]!.part)).size
  expect(partsIn('intro')).toBe(2)
  expect(partsIn('verse')).toBeLessThan(5)
  expect(partsIn('refrain')).toBe(5)
  expect(partsIn('last')).toBe(5)
})

it.each(moodNames)('has every part play somewhere when the whole song is %s', mood => {
  const all = Object.fromEntries(Object.keys(moods).map(section => [section, mood]))
  const { next } = roughedIn(bare, 5, all)
  const { tracks } = next.show.songs[SONG]!
  const played = Object.keys(moods).flatMap(s => cuesIn(next, s).map(cue => tracks[cue.track]!.part))
  expect(new Set(played)).toEqual(new Set(next.show.partOrder))
  expect(adviseShow(next.rig, next.show, 'full')).toEqual([])
})

it('leads into the refrain: a build through the bars before it, and a pick-up over the last of them', () => {
  const { next } = roughedIn(bare, 3)
  const built = cuesIn(next, 'rise').filter(
    ({ light }) => !('look' in light) && typeof light.level !== 'number',
  )
  expect(built.length).toBeGreaterThan(0)
  for (const { light } of built) {
    const level = 'look' in light || typeof light.level === 'number' ? [] : light.level
    expect(level.at(-1)!.level).toBeGreaterThan(level[0]!.level)
  }
  expect(cuesIn(next, 'refrain').filter(cue => cue.at === -3840)).toHaveLength(1)
  expect(cuesIn(next, 'intro').every(cue => cue.at >= 0)).toBe(true)
})

it('leaves copies to follow, and sections without a mood as they are', () => {
  const { next } = roughedIn(bare, 3, { refrain: 'soaring', again: 'hushed' })
  const { sections } = next.show.songs[SONG]!
  expect(sections.again).toEqual(bare.show.songs[SONG]!.sections.again)
  expect(sections.verse).toEqual(bare.show.songs[SONG]!.sections.verse)
  expect(sectionMeans(next).get('again')).toBeGreaterThan(0.1)
})

it('keeps the cues that are there, writes none beside them, and so adds nothing when done twice', () => {
  const once = roughedIn(bare, 11).next
  expect(text(roughedIn(once, 11).next)).toBe(text(once))
  const track = Object.keys(once.show.songs[SONG]!.tracks)[0]!
  const own = {
    track,
    at: 0,
    length: 960,
    light: { level: 1, colours: { along: 'none', colour: { hex: '#ffffff' } }, motion: { kind: 'sustain' } },
  }
  const tracked = applyEdit(bare, 'addTrack', { song: SONG, track, part: 'tubes' }).next
  const before = applyEdit(tracked, 'addCues', { song: SONG, section: 'last', cues: { mine: own } }).next
  const { next } = roughedIn(before, 11)
  expect(cuesIn(next, 'last').filter(cue => cue.track === track)).toEqual(cuesIn(before, 'last'))
  expect(Object.values(next.show.songs[SONG]!.tracks).filter(t => t.part === 'tubes')).toHaveLength(1)
})

it('uses the show’s swatches, and makes colours of its own where there are fewer than three', () => {
  const colours = (documents: Documents) => JSON.stringify(documents.show.songs)
  expect(colours(roughedIn(bare, 1).next)).not.toContain('"hex"')
  const swatches = { only: { name: 'Only', hex: '#ff2200' } }
  const poor = { ...bare, show: { ...bare.show, swatches, looks: {} } }
  fc.assert(
    fc.property(seeds, seed => {
      const { next } = roughedIn(poor, seed)
      expect(colours(next)).not.toContain('"swatch"')
      const hexes = new Set(colours(next).match(/#[0-9a-f]{6}/g))
      expect(hexes.size).toBeGreaterThan(3)
    }),
    { numRuns: 20 },
  )
})

it('slows motions down at the tempo that a glide reaches', () => {
  const tempo = [{ at: 3840, bpm: 300, glide: 11520 }]
  const quick = applyEdit(bare, 'setTempoMarks', { song: SONG, section: 'last', tempo }).next
  for (const seed of [1, 2, 3, 4, 5, 6]) {
    const { rig, show } = roughedIn(quick, seed).next
    expect(adviseShow(rig, show, 'full').map(a => a.says)).toEqual([])
  }
})

it('knows eight moods, no two with the same energy', () => {
  expect(new Set(moodNames.map((mood: Mood) => moodPlans[mood].energy)).size).toBe(8)
})

it('is whole and safe on songs of any shape: bars of any meter, changes, vamps, sections of one bar, one part', () => {
  fc.assert(
    fc.property(anySong, seeds, fc.boolean(), ({ sections, ...song }, seed, isOnePart) => {
      const ids = sections.map((_, i) => `s${i}`)
      const written = sections.map(({ bars, vamp, change }, i) => {
        const meters = change ? [{ bar: 0, meter: change }] : []
        return [ids[i], { name: `${i}`, bars, vamp, meters, cues: {} }]
      })
      const whole = { ...song, sections: Object.fromEntries(written), sectionOrder: ids }
      const before = withSong(isOnePart ? ['tubes'] : bare.show.partOrder, whole)
      const asked = Object.fromEntries(sections.map(({ mood }, i) => [ids[i], mood]))
      const done = roughedIn(before, seed, asked)
      expect(text(takeBack(done.next, done).next)).toBe(text(before))
      expect(adviseShow(done.next.rig, done.next.show, 'full').map(a => a.says)).toEqual([])
    }),
    { numRuns: 40 },
  )
}, 60_000)

it('refuses a song or a section that is gone, a mood it does not know, and a show without parts; nothing changes', () => {
  const before = text(bare)
  const refused = (args: object, documents = bare) =>
    refusalOf(() => applyEdit(documents, 'roughIn', { song: SONG, moods, seed: 1, ...args })).code
  expect(refused({ song: 'gone' })).toBe('edit.missing')
  expect(refused({ moods: { gone: 'hushed' } })).toBe('edit.missing')
  expect(refused({ moods: { verse: 'sleepy' } })).toBe('edit.schema')
  expect(refused({ seed: 1.5 })).toBe('edit.schema')
  const noParts = { ...bare, show: { ...bare.show, partOrder: [], parts: {}, kits: {} } }
  expect(refused({}, noParts)).toBe('edit.noParts')
  expect(text(bare)).toBe(before)
})
