// What stands at a place of a song as a look, and a swatch that another takes the place of.

import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { lookAt } from '@glowchart/shared/show/look-at.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { describe, expect, it } from 'vitest'
import { type ShowInput, smallShow } from '../render/small-show.ts'

const at = (tick: number, input: ShowInput) => {
  const { show } = smallShow(input)
  const song = show.songs.song!
  return lookAt(show, song, timelineOf(song), tick)
}
const only = (hex: string) => ({ along: 'none', colour: { hex } })

describe('the look at a place', () => {
  it('is what holds there: from the start of a cue to its end, not after', () => {
    const cues = { one: { at: 960, length: 960, level: 0.5, colours: only('#ff0000') } }
    expect(Object.keys(at(959, { cues }))).toEqual([])
    expect(at(960, { cues }).part).toMatchObject({ level: 0.5, colours: only('#ff0000') })
    expect(Object.keys(at(1920, { cues }))).toEqual([])
  })

  it('is the lowest track’s that is neither muted nor a mask, and the cue’s that began last', () => {
    const tracks = [{}, { merge: 'highest' }, { merge: 'mask' }, { muted: true }]
    const cues = {
      under: { track: 't0', at: 0, length: 3840, level: 0.1 },
      early: { track: 't1', at: 0, length: 3840, level: 0.2 },
      late: { track: 't1', at: 960, length: 960, level: 0.3 },
      mask: { track: 't2', at: 0, length: 3840, level: 0.4 },
      muted: { track: 't3', at: 0, length: 3840, level: 0.5 },
    }
    expect(at(0, { tracks, cues }).part?.level).toBe(0.2)
    expect(at(1000, { tracks, cues }).part?.level).toBe(0.3)
    expect(at(2000, { tracks, cues }).part?.level).toBe(0.2)
  })

  it('has a level of points at the moment, and a look’s light as it is', () => {
    const level = [
      { at: 960, level: 0.25 },
      { at: 1920, level: 1 },
    ]
    const cues = { one: { at: 0, length: 3840, level } }
    expect([0, 960, 1440, 1920, 3000].map(tick => at(tick, { cues }).part?.level)).toEqual([
      0.25, 0.25, 0.625, 1, 1,
    ])
    const looked = {
      looks: { embers: { part: { level: 0.7 } } },
      cues: { one: { at: 0, length: 960, look: 'embers' } },
    }
    expect(at(0, looked).part).toMatchObject({ level: 0.7 })
  })

  it('works in what a copied section changes', () => {
    const input: ShowInput = {
      bars: 1,
      cues: {
        one: { at: 0, length: 3840, level: 0.8, colours: { along: 'none', colour: { swatch: 'rust' } } },
      },
      sections: {
        b: { name: 'B', bars: 1, cues: {}, sameAs: { section: 'a', swatches: { rust: 'moss' }, trim: 0.5 } },
      },
    }
    expect(at(3840, input).part).toMatchObject({
      level: 0.4,
      colours: { along: 'none', colour: { swatch: 'moss' } },
    })
  })
})

describe('a swatch that is deleted', () => {
  const { rig, show } = smallShow({
    bars: 1,
    cues: { one: { at: 0, length: 3840, colours: { along: 'none', colour: { swatch: 'rust' } } } },
    looks: { embers: { part: { colours: { along: 'none', colour: { swatch: 'rust' } } } } },
    sections: {
      b: { name: 'B', bars: 1, cues: {}, sameAs: { section: 'a', swatches: { rust: 'moss' } } },
    },
  })
  const documents = {
    rig,
    show: { ...show, swatches: { ...show.swatches, sky: { name: 'Sky', hex: '#4080c0' } } },
  }

  it('leaves its place to another one everywhere, in copied sections too', () => {
    const { next } = applyEdit(documents, 'deleteSwatch', { swatch: 'rust', by: 'sky' })
    expect(Object.keys(next.show.swatches)).toEqual(['moss', 'sky'])
    const { sections } = next.show.songs.song!
    expect(sections.a!.cues.one!.light).toMatchObject({ colours: { colour: { swatch: 'sky' } } })
    expect(next.show.looks.embers!.parts.part!.colours).toMatchObject({ colour: { swatch: 'sky' } })
    expect(sections.b!.sameAs!.swatches).toEqual({ sky: 'moss' })
    const other = applyEdit(documents, 'deleteSwatch', { swatch: 'moss', by: 'sky' })
    expect(other.next.show.songs.song!.sections.b!.sameAs!.swatches).toEqual({ rust: 'sky' })
  })

  it('is refused to take its own place, or that of one that is not there', () => {
    expect(() => applyEdit(documents, 'deleteSwatch', { swatch: 'rust', by: 'rust' })).toThrow(
      'cannot take its own place',
    )
    expect(() => applyEdit(documents, 'deleteSwatch', { swatch: 'rust', by: 'gone' })).toThrow('any more')
  })
})
