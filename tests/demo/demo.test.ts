// The demo show: whole, safe to play on both its kits, and alive on every light of both.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { adviseShow } from '@glowchart/shared/advice/advise.ts'
import { type Light, motionKinds } from '@glowchart/shared/light/schema.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import { bundleText, parseBundle } from '@glowchart/shared/show/bundle.ts'
import { merges } from '@glowchart/shared/show/song.ts'
import { describe, expect, it } from 'vitest'
import { brightest, playThrough } from './playthrough.ts'

const { rig, show } = demoBundle()
const songs = show.songOrder.map(id => show.songs[id]!)
const kitIds = Object.keys(show.kits)
const tracksAndCues = songs.flatMap(song =>
  Object.values(song.sections).flatMap(section =>
    Object.values(section.cues).map(cue => ({ cue, track: song.tracks[cue.track]! })),
  ),
)
/** The light of every cue on the charts, looks followed. */
const lights: Light[] = tracksAndCues.map(({ cue, track }) =>
  'look' in cue.light ? show.looks[cue.light.look]!.parts[track.part]! : cue.light,
)

it('reads back from its own file as it was', () => {
  expect(parseBundle(bundleText({ rig, show }), 'demo')).toEqual({ rig, show, audio: {} })
})

it('gives every caller a copy of its own', () => {
  const first = demoBundle()
  first.show.songs.porchlight!.title = 'Changed'
  expect(demoBundle().show.songs.porchlight!.title).not.toBe('Changed')
})

it('has sixteen RGB fixtures of four builds on two 24-channel boxes, 48 slots, and eight on the fly box', () => {
  expect(Object.keys(rig.builds)).toHaveLength(4)
  expect(Object.keys(rig.fixtures)).toHaveLength(16)
  const serials = Object.values(rig.fixtures).map(f => f.serial)
  expect(new Set(serials).size).toBe(serials.length)
  const slots = (kit: string) =>
    patch(rig, show.kits[kit]!).entries.flatMap(e =>
      e.channels.map((c, i) => ({ does: c.does, slot: e.address + i })),
    )
  // Common practice, no source: a 24-channel decoder drives eight RGB fixtures; the second box starts at 25.
  expect(slots('full').map(s => s.slot)).toEqual(Array.from({ length: 48 }, (_, i) => i + 1))
  expect(patch(rig, show.kits.full!).entries.find(e => e.box === 'right')!.address).toBe(25)
  expect(patch(rig, show.kits.fly!).entries.map(e => [e.box, e.slots])).toEqual(Array(8).fill(['fly', 3]))
  expect(new Set(slots('full').map(s => s.does))).toEqual(new Set(['red', 'green', 'blue']))
})

it('has four songs of four tempos and four metres, each of two to four minutes', () => {
  expect(songs).toHaveLength(4)
  expect(new Set(songs.map(s => s.bpm)).size).toBe(4)
  expect(new Set(songs.map(s => `${s.meter.beats}/${s.meter.unit}`)).size).toBe(4)
  for (const id of show.songOrder) {
    const { seconds } = playThrough(rig, show, 'full', id)
    expect(seconds, id).toBeGreaterThan(120)
    expect(seconds, id).toBeLessThan(240)
  }
})

it('plays all twelve motions and all four merges', () => {
  expect(new Set(lights.map(l => l.motion.kind))).toEqual(new Set(motionKinds))
  expect(new Set(tracksAndCues.map(({ track }) => track.merge))).toEqual(new Set(merges))
})

it('shows what a chart can do: every look, every swatch, every sort of gradient, fade, link, tempo and vamp', () => {
  const cues = tracksAndCues.map(({ cue }) => cue)
  const sections = songs.flatMap(s => Object.values(s.sections))
  const placed = new Set(cues.flatMap(c => ('look' in c.light ? [c.light.look] : [])))
  expect(placed).toEqual(new Set(Object.keys(show.looks)))
  const swatches = new Set([
    ...[...JSON.stringify(lights).matchAll(/"swatch":"(\w+)"/g)].map(m => m[1]),
    ...sections.flatMap(s => Object.values(s.sameAs?.swatches ?? {})),
  ])
  expect(swatches).toEqual(new Set(Object.keys(show.swatches)))
  expect(new Set(lights.map(l => l.colours.along))).toEqual(new Set(['none', 'part', 'time', 'motion']))
  const curves = cues.flatMap(c => [c.fadeIn, c.fadeOut]).flatMap(f => (f ? [f.curve] : []))
  expect(new Set(curves)).toEqual(new Set(['even', 'soft', 'early', 'late']))
  expect(lights.some(l => typeof l.level !== 'number')).toBe(true)
  expect(cues.some(c => c.at < 0)).toBe(true)
  expect(sections.some(s => s.vamp)).toBe(true)
  expect(sections.some(s => s.tempo.some(mark => mark.glide !== undefined))).toBe(true)
  expect(sections.some(s => (s.sameAs?.freed.length ?? 0) > 0)).toBe(true)
  expect(sections.some(s => s.sameAs && s.sameAs.trim < 1)).toBe(true)
  expect(sections.every(s => s.note)).toBe(true)
})

describe.each(kitIds)('on the kit "%s"', kit => {
  it.each([25, 30, 40, 44])('gives no advice at all at %i frames a second', rate => {
    const played = { ...show, output: { ...show.output, rate } }
    expect(adviseShow(rig, played, kit).map(a => a.says)).toEqual([])
  })

  it.each(show.songOrder)('lights every fixture in %s, and leaves it dark at times', song => {
    const play = playThrough(rig, show, kit, song)
    for (const [i, fixture] of play.stage.fixtures.entries()) {
      expect(brightest(play, i), fixture.name).toBeGreaterThan(0.1)
      const dark = darkShare(play, i)
      expect(dark, `${fixture.name} dark`).toBeGreaterThan(0.02)
    }
  })

  it.each(show.songOrder)('renders %s twice to equal light', song => {
    const [first, second] = [playThrough(rig, show, kit, song), playThrough(rig, show, kit, song)]
    expect(Buffer.from(first.light.buffer).equals(Buffer.from(second.light.buffer))).toBe(true)
  })
})

/** Share of a song's frames in which a fixture is all but dark: less than one step of an 8-bit decoder. */
function darkShare({ stage, light, frames }: ReturnType<typeof playThrough>, fixture: number): number {
  const { firstCell, cells } = stage.fixtures[fixture]!
  let dark = 0
  for (let n = 0; n < frames; n++) {
    const from = (n * stage.cells + firstCell) * 3
    if (light.subarray(from, from + 3 * cells).every(v => v < 1 / 255)) dark++
  }
  return dark / frames
}
