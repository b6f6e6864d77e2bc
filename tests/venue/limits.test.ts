// The venue's limits on the light: trim, highest grand master, strobes, and the house's master and blackout.

import { luminanceOf } from '@glowchart/shared/light/lightness.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freeHouse, freshLive, type House, type Live } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import type { Venue } from '@glowchart/shared/show/venue.ts'
import { describe, expect, it } from 'vitest'
import { smallShow } from '../render/small-show.ts'

const RATE = 40

/** The light of the first second, frame by frame, of a cue at 120 BPM on a kit at a venue. */
function second(venue: Venue, motion: object, live: Partial<Live> = {}, house: House = freeHouse, pace = 1) {
  const { rig, show } = smallShow({
    fixtures: 2,
    cues: { c: { at: 0, length: 3840 * 4, motion: { ...motion } } },
  })
  const next = applyEdit({ rig, show }, 'setVenue', { kit: 'kit', ...venue }).next
  const song = compileSong(rig, next.show, 'kit', 'song')
  const scratch = renderScratch(song)
  const light = new Float32Array(song.stage.cells * 3)
  let held = false
  const frames = Array.from({ length: RATE }, (_, n) => {
    const { from, to } = frameSpan(song, n, RATE)
    renderLight(song, from, to, { ...freshLive(), ...live }, scratch, light, pace)
    held ||= scratch.held
    applyLimits(song, { ...freshLive(), ...live }, light, house)
    return light[0]!
  })
  const flashes = frames.filter((y, n) => y > 0.5 && (frames[n - 1] ?? 0) <= 0.5).length
  return { frames, flashes, held }
}

const steady = {}
const strobe = (ticks: number) => ({ kind: 'strobe', rate: { ticks }, duty: 0.5 })

describe('the grand master at a venue', () => {
  it('is trimmed in L*, and never lets more through than the house allows', () => {
    const first = (venue: Venue, grand: number, house?: House) =>
      second(venue, steady, { grand }, house).frames[0]!
    expect(first({ trim: 0.8 }, 1)).toBeCloseTo(luminanceOf(0.8), 6)
    expect(first({ trim: 0.8 }, 0.5)).toBeCloseTo(luminanceOf(0.4), 6)
    expect(first({ highest: 0.7 }, 1)).toBeCloseTo(luminanceOf(0.7), 6)
    expect(first({ highest: 0.7 }, 0.5)).toBeCloseTo(luminanceOf(0.5), 6)
    expect(first({ trim: 0.5, highest: 0.7 }, 1, { grand: 0.5, blackout: false })).toBeCloseTo(
      luminanceOf(0.25),
      6,
    )
  })

  it('holds bumps and fixtures that are lit to be found too', () => {
    expect(second({ highest: 0.3 }, steady, { bumps: { part: 1 } }).frames[0]).toBeCloseTo(
      luminanceOf(0.3),
      6,
    )
    expect(second({ highest: 0.3 }, steady, { lit: ['f0'] }).frames[0]).toBeCloseTo(luminanceOf(0.3), 6)
  })
})

describe('the house’s blackout', () => {
  const dark: House = { grand: 1, blackout: true }
  it('puts everything out, whatever the performers’ own hands do', () => {
    for (const live of [{}, { blackout: false, bumps: { part: 1 } }, { lit: ['f0'] }])
      expect(Math.max(...second({}, steady, live, dark).frames)).toBe(0)
    // Their own blackout leaves a fixture that is being found; the house's does not.
    expect(second({}, steady, { blackout: true, lit: ['f0'] }).frames[0]).toBeGreaterThan(0)
  })
})

describe('a limit on strobes', () => {
  // Eighth notes at 120 BPM are 4 flashes a second, sixteenths 8.
  it('lets a strobe at its rate flash, and makes a faster one stand at its mean', () => {
    expect(second({ strobes: 4 }, strobe(480))).toMatchObject({ flashes: 4, held: false })
    const held = second({ strobes: 4 }, strobe(240))
    expect(held.held).toBe(true)
    expect(new Set(held.frames).size).toBe(1)
    expect(held.frames[0]).toBeCloseTo(0.5, 5)
    expect(second({}, strobe(240))).toMatchObject({ flashes: 8, held: false })
  })

  it('counts flashes by the clock on the wall: the same strobe is too fast in a song that is played faster', () => {
    expect(second({ strobes: 4 }, strobe(480), {}, freeHouse, 1.1).held).toBe(true)
    expect(second({ strobes: 4 }, strobe(240), {}, freeHouse, 0.5).held).toBe(false)
  })

  it('of none holds every strobe, and leaves other motions alone', () => {
    expect(second({ strobes: 'none' }, strobe(1920)).held).toBe(true)
    const pulse = { kind: 'pulse', rate: { ticks: 240 } }
    expect(second({ strobes: 'none' }, pulse).frames).toEqual(second({}, pulse).frames)
  })
})

describe('the edit of the venue', () => {
  it('sets and takes out single fields, and is taken back whole', () => {
    const { rig, show } = smallShow({})
    const set = applyEdit({ rig, show }, 'setVenue', { kit: 'kit', trim: 0.8, lightOffset: -40 })
    expect(set.next.show.kits.kit!.venue).toEqual({ trim: 0.8, lightOffset: -40 })
    const out = applyEdit(set.next, 'setVenue', { kit: 'kit', trim: null })
    expect(out.next.show.kits.kit!.venue).toEqual({ lightOffset: -40 })
    const gone = applyEdit(out.next, 'setVenue', { kit: 'kit', lightOffset: null })
    expect(gone.next.show).toEqual(show)
    expect(takeBack(gone.next, gone).next).toEqual(out.next)
  })

  it('refuses what lies outside', () => {
    const { rig, show } = smallShow({})
    for (const wrong of [{ lightOffset: 201 }, { trim: 1.1 }, { strobes: 30 }, { strobes: 'some' }])
      expect(() => applyEdit({ rig, show }, 'setVenue', { kit: 'kit', ...wrong })).toThrow(/setVenue|:/)
  })
})
