// What the pedal will do next: one answer for the page and for the pedal.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { stepAt, stepsOf } from '@glowchart/shared/set/steps.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import type { Action } from '@glowchart/shared/trigger/action.ts'
import { deedOf, type Situation } from '@glowchart/shared/trigger/deed.ts'
import { situationAt } from '@glowchart/shared/trigger/situation.ts'
import { describe, expect, it } from 'vitest'
import { ferryVamp } from './ferry.ts'

const bundle = demoBundle()
const { show } = bundle
const steps = stepsOf(show)
const porchlight = timelineOf(show.songs.porchlight!)
const placeOf = (song: string) => steps.findIndex(step => step.kind === 'song' && step.song === song)

const at = (given: Partial<Situation>): Situation => ({
  song: null,
  look: null,
  place: null,
  playing: false,
  position: 0,
  loop: null,
  released: null,
  repeated: null,
  clock: { source: 'internal' },
  live: { strobeStop: false, grand: 1, parts: {} },
  ...given,
})
const deed = (action: Action['do'], given: Partial<Situation>) =>
  deedOf({ do: action } as Action, show, at(given))

describe('the steps of a set', () => {
  it('are the songs with the looks before, between and after them', () => {
    expect(steps.map(step => (step.kind === 'song' ? step.song : step.when))).toEqual([
      'walkIn',
      'porchlight',
      'change',
      'salt',
      'drawers',
      'ferry',
      'end',
    ])
    const { tonightList: _, ...noList } = show
    expect(stepsOf(noList).map(step => step.kind === 'song' && step.song)).toEqual(show.songOrder)
  })

  it('find the one that stands where a song comes twice: nearest to where it was said to be', () => {
    const twice = applyEdit(bundle, 'addSetSong', { list: 'short', song: 'porchlight' }).next.show
    const all = stepsOf(twice)
    const last = all.length - 2
    expect(stepAt(all, { song: 'porchlight', look: null, place: last })).toBe(last)
    expect(stepAt(all, { song: 'porchlight', look: null, place: 1 })).toBe(1)
    expect(stepAt(all, { song: 'salt', look: null, place: null })).toBe(3)
    expect(stepAt(all, { song: null, look: 'saltAir', place: 2 })).toBe(-1)
  })
})

describe('the next pedal', () => {
  it('starts the song that rests at its start, and goes on with one that was stopped', () => {
    expect(deed('next', { song: 'porchlight', place: 1 })).toMatchObject({
      says: 'Start Porchlight Arithmetic',
      presses: [{ do: 'play' }],
    })
    const stopped = deed('next', { song: 'porchlight', place: 1, position: 4 * 3840 })
    expect([stopped.says, stopped.presses]).toEqual(['Go on from bar 5', [{ do: 'play' }]])
  })

  it('starts nothing while the MIDI clock does that', () => {
    const waits = deed('next', { song: 'porchlight', place: 1, clock: { source: 'midi' } })
    expect(waits.presses).toEqual([])
    expect(waits.more).toContain('MIDI clock')
  })

  it('plays the section once more, and takes that back when it is pressed again', () => {
    const { start, end } = porchlight.sections[1]!
    const playing = { song: 'porchlight', place: 1, playing: true, position: start + 100 }
    const span = { from: start, to: end, once: true }
    expect(deed('next', playing).presses).toEqual([{ do: 'loop', span }])
    const back = deed('next', { ...playing, loop: span })
    expect([back.says, back.presses]).toEqual(['Do not repeat Verse 1', [{ do: 'loop', span: null }]])
  })

  it('leaves a vamp at its end, and a repeat', () => {
    const { timeline, vamp } = ferryVamp(show)
    const playing = { song: 'ferry', place: placeOf('ferry'), playing: true, position: vamp.start + 100 }
    const leave = deed('next', playing)
    expect([leave.says, leave.presses]).toEqual(['Leave the vamp', [{ do: 'release' }]])
    const after = timeline.sections[vamp.index + 1]
    if (after) expect(leave.more).toContain(show.songs.ferry!.sections[after.id]!.name)
    expect(deed('next', { ...playing, released: vamp.id }).presses).toEqual([])
    const { start, end } = porchlight.sections[1]!
    const repeated = { song: 'porchlight', playing: true, position: start, loop: { from: start, to: end } }
    expect(deed('next', repeated).presses).toEqual([{ do: 'loop', span: null }])
    expect(deed('repeat', { ...repeated, loop: null }).presses).toEqual([
      { do: 'loop', span: { from: start, to: end } },
    ])
  })

  it('means what sounds by now, not what the engine told of a tenth of a second ago', () => {
    const [first, second] = porchlight.sections
    const told = { ...at({ song: 'porchlight', playing: true }), at: 1000, starts: null, speed: 1 }
    const next = (position: number, now: number, more: object = {}) =>
      deedOf({ do: 'next' }, show, situationAt({ ...told, position, ...more }, show, now)).presses
    const once = ({ start, end }: { start: number; end: number }) => [
      { do: 'loop', span: { from: start, to: end, once: true } },
    ]
    const edge = first!.end - 20
    expect(next(edge, 1001)).toEqual(once(first!))
    expect(next(edge, 1090)).toEqual(once(second!))
    // An engine that says nothing any more has not played on for certain.
    expect(next(first!.start, 60_000)).toEqual(once(first!))
    // A section that comes again is the same one still; what stands does not move.
    const again = { loop: { from: first!.start, to: first!.end, once: true } }
    expect(next(edge, 1090, again)).toEqual([{ do: 'loop', span: null }])
    expect(next(edge, 1090, { playing: false })).toEqual([{ do: 'play' }])
    const over = next(porchlight.length - 20, 1090)
    expect(over).toEqual(deed('next', { song: 'porchlight', position: porchlight.length }).presses)
  })

  it('steps at once from section to section of a song without a click, and leaves the last at its end', () => {
    const stepped = applyEdit(bundle, 'setStepped', { song: 'porchlight', stepped: true }).next.show
    const { sections } = timelineOf(stepped.songs.porchlight!)
    expect(sections.every(section => section.vamp)).toBe(true)
    const next = (index: number) => {
      const position = sections[index]!.start + 100
      return deedOf({ do: 'next' }, stepped, at({ song: 'porchlight', playing: true, position }))
    }
    expect(next(0).presses.at(-1)).toEqual({ do: 'locate', at: sections[1]!.start })
    expect(next(sections.length - 1).presses).toEqual([{ do: 'release' }])
  })

  it('goes from a song that is over to the look between songs, and from there into the next song', () => {
    const over = { song: 'porchlight', place: 1, position: porchlight.length }
    expect(deed('next', over).presses).toEqual([{ do: 'look', look: 'smallMoon', place: 2 }])
    const start = deed('next', { look: 'smallMoon', place: 2 })
    expect(start.presses).toEqual([{ do: 'song', song: 'salt', at: 0, place: 3 }, { do: 'play' }])
    expect(start.more).toContain('Piano has to be tuned')
  })

  it('ends the set with its last look, and then does nothing', () => {
    const end = steps.length - 1
    expect(deed('next', { look: 'landingLights', place: end })).toMatchObject({ presses: [] })
  })

  it('walks through the whole set by itself, each press what was said before', () => {
    let now = at({ look: 'porchLamps', place: 0 })
    const walked: (string | null)[] = []
    for (let i = 0; i < 12; i++) {
      const next = deedOf({ do: 'next' }, show, now)
      if (next.presses.length === 0) break
      for (const press of next.presses) {
        if (press.do === 'song') now = at({ song: press.song, place: press.place ?? null })
        else if (press.do === 'look') now = at({ look: press.look, place: press.place ?? null })
      }
      walked.push(now.song ?? now.look)
      if (now.song) now = { ...now, position: timelineOf(show.songs[now.song]!).length }
    }
    expect(walked).toEqual(['porchlight', 'smallMoon', 'salt', 'drawers', 'ferry', 'landingLights'])
  })
})

describe('the other pedals', () => {
  it('go back to the section, within its first bar to the one before; at rest to the start, then a step back', () => {
    const [first, second] = porchlight.sections
    const playing = { song: 'porchlight', place: 1, playing: true }
    const late = deed('back', { ...playing, position: second!.start + 2 * 3840 })
    expect(late.presses).toEqual([{ do: 'locate', at: second!.start }])
    const early = deed('back', { ...playing, position: second!.start + 100 })
    expect(early.presses).toEqual([{ do: 'locate', at: first!.start }])
    expect(deed('back', { song: 'salt', place: 3, position: 500 }).presses).toEqual([{ do: 'locate', at: 0 }])
    expect(deed('back', { song: 'salt', place: 3 }).presses).toEqual([
      { do: 'look', look: 'smallMoon', place: 2 },
    ])
    expect(deed('back', { look: 'porchLamps', place: 0 }).presses).toEqual([])
  })

  it('darken and bump while held, and undo just that', () => {
    expect(deed('blackout', {})).toMatchObject({ live: { blackout: true }, letGo: { blackout: false } })
    const bump = deedOf({ do: 'bump', part: 'tubes' }, show, at({}))
    expect([bump.live, bump.letGo]).toEqual([{ bumps: { tubes: 1 } }, { bumps: { tubes: null } }])
  })

  it('move a master by a step, no further than it goes, and leave the others', () => {
    const live = { strobeStop: false, grand: 0.95, parts: { bulbs: 0.4, tubes: 0.05 } }
    const step = (by: number, part?: string) =>
      deedOf({ do: 'master', by, ...(part && { part }) }, show, at({ live }))
    expect(step(0.1)).toMatchObject({ says: 'Grand master to 100 %', live: { steps: { grand: 0.1 } } })
    expect(step(-0.1)).toMatchObject({ says: 'Grand master to 85 %', live: { steps: { grand: -0.1 } } })
    expect(step(-0.1, 'tubes').live).toEqual({ steps: { parts: { tubes: -0.1 } } })
    expect(step(0.1, 'rings').live).toBeUndefined()
    expect(step(-0.1, 'rings').live).toEqual({ steps: { parts: { rings: -0.1 } } })
  })

  it('make a song ready without starting it, past the looks between', () => {
    expect(deed('songOn', { song: 'porchlight', place: 1 }).presses).toEqual([
      { do: 'song', song: 'salt', at: 0, place: 3 },
    ])
    expect(deed('songBack', { song: 'porchlight', place: 1 }).presses).toEqual([])
    expect(deed('house', { song: 'salt' }).presses).toEqual([{ do: 'look', look: 'porchLamps', place: 3 }])
    // It is the walk-in look too, and the set still goes on from where it was.
    expect(deed('next', { look: 'porchLamps', place: 3 }).says).toBe('Start Seven Drawers Down')
    expect(deed('next', { look: 'porchLamps', place: 0 }).says).toBe('Start Porchlight Arithmetic')
  })
})
