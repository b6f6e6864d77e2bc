// Position and live state alone decide: by play, seek, loop, restart, in a clone, over a split. And nothing is out of range.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import { splitCue } from '@glowchart/shared/show/split.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyShow } from './any-show.ts'
import { frameCount, framesOf, lightOf } from './rendering.ts'
import { compiledSmall, smallShow } from './small-show.ts'

const rate = fc.integer({ min: 1, max: 44 })

describe('the light of a frame', () => {
  it('is the same by play, by seeking in any order, in a loop, after a restart and in a clone', () => {
    fc.assert(
      fc.property(anyShow, rate, fc.array(fc.nat(), { maxLength: 40 }), (input, fps, jumps) => {
        const song = compiledSmall(input)
        const played = framesOf(song, fps)
        const clone = structuredClone(compiledSmall(input))
        const scratch = renderScratch(clone)
        const light = new Float32Array(song.stage.cells * 3)
        const seek = (n: number) => {
          const { from, to } = frameSpan(song, n, fps)
          renderLight(clone, from, to, freshLive(), scratch, light)
          expect(light).toEqual(played[n])
        }
        for (const jump of jumps) seek(jump % played.length)
        const loopEnd = Math.min(played.length, 9)
        for (let turn = 0; turn < 3; turn++) for (let n = 0; n < loopEnd; n++) seek(n)
        const last = played.length - 1
        expect(framesOf(compiledSmall(input), fps, last, last + 1)[0]).toEqual(played[last])
      }),
      { numRuns: 150 },
    )
  })

  it('is within 0…1 and a number, at any position, rate and live state', () => {
    fc.assert(
      fc.property(
        anyShow,
        fc.array(
          fc.tuple(
            fc.double({ min: -2000, max: 14_000, noNaN: true }),
            fc.double({ min: 0, max: 4000, noNaN: true }),
          ),
        ),
        fc.boolean(),
        (input, spans, hold) => {
          const song = compiledSmall(input)
          for (const [from, length] of spans) {
            const live = { ...freshLive(), hold, strobeStop: length > 100 }
            for (const v of lightOf(song, from, from + length, live)) {
              expect(v).toBeGreaterThanOrEqual(0)
              expect(v).toBeLessThanOrEqual(1)
            }
          }
        },
      ),
      { numRuns: 150 },
    )
  })

  it('does not change by a byte when a cue is split, and split again, wherever', () => {
    fc.assert(
      fc.property(anyShow, rate, fc.nat(), fc.nat(), fc.nat(), (input, fps, which, where, again) => {
        const { rig, show } = smallShow(input)
        const whole = compileSong(rig, show, 'kit', 'song')
        const once = withSplit(show, which, where, 'zz1')
        const twice = withSplit(once, which, again, 'zz2')
        for (const cut of [once, twice]) {
          const song = compileSong(rig, cut, 'kit', 'song')
          expect(framesOf(song, fps)).toEqual(framesOf(whole, fps))
        }
      }),
      { numRuns: 200 },
    )
  })

  it("keeps a look's gradient over time when a cue is split behind the end of a shorter copy, and when a half is freed", () => {
    const stops = [
      { at: 0, colour: { hex: '#000000' } },
      { at: 1, colour: { hex: '#ff8000' } },
    ]
    const { rig, show } = smallShow({
      cues: { a: { at: 0, length: 4600, look: 'dawn' } },
      bars: 2,
      looks: { dawn: { part: { level: 0.5, colours: { along: 'time', stops } } } },
      sections: { b: { name: 'B', bars: 1, cues: {}, sameAs: { section: 'a' } } },
    })
    const framesOfShow = (of: Show) => framesOf(compileSong(rig, of, 'kit', 'song'), 10)
    // On the edge of a frame (192 ticks): a freed half is a cue of its own, and no frame may hold some of both.
    const split = withSplit(show, 0, 4031, 'second')
    expect(framesOfShow(split)).toEqual(framesOfShow(show))
    const cues = [{ section: 'a', cue: 'second' }]
    const { next } = applyEdit({ rig, show: split }, 'freeCueFromLook', { song: 'song', cues })
    expect(next.show.songs.song!.sections.a!.cues.second!.light).not.toHaveProperty('look')
    expect(framesOfShow(next.show)).toEqual(framesOfShow(show))
  })

  it('has each of two cues that meet on the edge of a frame in its own frames, at any even tempo', () => {
    for (const [bpm, fps] of [
      [60, 40],
      [90, 40],
      [100, 25],
      [100, 40],
      [150, 30],
    ] as const) {
      const ticksAFrame = (960 * bpm) / (60 * fps)
      const song = compiledSmall({
        fixtures: 1,
        bpm,
        bars: 100,
        cues: Object.fromEntries(
          Array.from({ length: 400 }, (_, i) => [`c${i}`, { at: 960 * i, length: 480 }] as const),
        ),
      })
      for (let n = 0; n * ticksAFrame < 400 * 960; n++) {
        const { from, to } = frameSpan(song, n, fps)
        if ((n * ticksAFrame) % 480 !== 0) continue
        const lit = (n * ticksAFrame) % 960 === 0
        expect(lightOf(song, from, to)[0], `${bpm} ${fps} ${n}`).toBe(lit ? 1 : 0)
        if (!lit || n === 0) continue
        const before = frameSpan(song, n - 1, fps)
        expect(lightOf(song, before.from, before.to)[0], `before ${bpm} ${fps} ${n}`).toBe(0)
      }
    }
  })

  it('comes from the frames that lie on multiples of the period from the song start', () => {
    const song = compiledSmall({ cues: {}, tempo: [{ at: 1000, bpm: 63, glide: 5000 }] })
    const count = frameCount(song, 30)
    for (let n = 0; n < count; n++) expect(frameSpan(song, n, 30).to).toBe(frameSpan(song, n + 1, 30).from)
    expect(frameSpan(song, 0, 30).from).toBe(0)
  })
})

/** The show with one of its cues split in two; its second half has the new id. */
function withSplit(show: Show, which: number, where: number, id: string): Show {
  const song = show.songs.song!
  const section = song.sections.a!
  const ids = Object.keys(section.cues)
  const chosen = ids[which % ids.length]!
  const cue: Cue = section.cues[chosen]!
  if (cue.length < 2) return show
  const [first, second] = splitCue(cue, 1 + (where % (cue.length - 1)))
  const cues = { ...section.cues, [chosen]: first, [id]: second }
  return { ...show, songs: { song: { ...song, sections: { ...song.sections, a: { ...section, cues } } } } }
}
