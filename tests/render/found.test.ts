// Hearing cue tracks alone, and lighting fixtures to find them: what the live state does that is never saved.

import { luminanceOf } from '@glowchart/shared/light/lightness.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive, type Live } from '@glowchart/shared/render/live.ts'
import { describe, expect, it } from 'vitest'
import { lightOf } from './rendering.ts'
import { compiledSmall } from './small-show.ts'

const RED = { along: 'none', colour: { hex: '#ff0000' } }
const GREEN = { along: 'none', colour: { hex: '#00ff00' } }
const BLUE = { along: 'none', colour: { hex: '#0000ff' } }

describe('solo', () => {
  const song = compiledSmall({
    fixtures: 1,
    tracks: [{}, { merge: 'add' }, { merge: 'add', muted: true }],
    cues: {
      red: { track: 't0', at: 0, length: 3840, colours: RED },
      green: { track: 't1', at: 0, length: 3840, colours: GREEN },
      blue: { track: 't2', at: 0, length: 3840, colours: BLUE },
    },
  })
  const with_ = (...solo: string[]) => [...lightOf(song, 0, 48, { ...freshLive(), solo })]

  it('leaves only the soloed tracks lit', () => {
    expect(with_()).toEqual([1, 1, 0])
    expect(with_('t0')).toEqual([1, 0, 0])
    expect(with_('t1')).toEqual([0, 1, 0])
    expect(with_('t0', 't1')).toEqual([1, 1, 0])
  })

  it('of a track that is muted, or of another song, puts no light out', () => {
    expect(with_('t2')).toEqual([1, 1, 0])
    expect(with_('of-another-song')).toEqual([1, 1, 0])
    expect(with_('t1', 't2')).toEqual([0, 1, 0])
  })
})

describe('a fixture lit to be found', () => {
  const song = compiledSmall({ fixtures: 2, cues: { red: { at: 0, length: 3840, colours: RED } } })
  const limited = (live: Partial<Live>) => {
    const all = { ...freshLive(), ...live }
    const light = lightOf(song, 0, 48, all)
    applyLimits(song, all, light)
    return [...light]
  }
  const found = Math.fround(luminanceOf(0.6))

  it('is white, and the rest of the stage steps back but stays', () => {
    const light = limited({ lit: ['f1'] })
    expect(light.slice(3)).toEqual([found, found, found])
    expect(light.slice(0, 3)).toEqual([Math.fround(luminanceOf(0.4)), 0, 0])
  })

  it('shows through a blackout and a grand master at nothing', () => {
    expect(limited({ lit: ['f0'], blackout: true })).toEqual([found, found, found, 0, 0, 0])
    expect(limited({ lit: ['f0'], grand: 0 })).toEqual([found, found, found, 0, 0, 0])
  })

  it('that does not stand tonight lights nothing', () => {
    expect(limited({ lit: ['gone'], blackout: true })).toEqual([0, 0, 0, 0, 0, 0])
  })
})
