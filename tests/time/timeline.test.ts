// Sections laid end to end: lengths, marks, and what copies take from their source.
import { barStart, ticksPerBar } from '@glowchart/shared/time/meter.ts'
import { bpmAt, secondsAt } from '@glowchart/shared/time/tempo.ts'
import { sectionAt, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { song } from './songs.ts'

const threeFour = { bar: 0, meter: { beats: 3, unit: 4 } }
const sevenEight = { bar: 0, meter: { beats: 7, unit: 8 } }

describe('a timeline', () => {
  it('lays 4/4 and 3/4 at 120 and 7/8 at 150 end to end, two bars each', () => {
    const timeline = timelineOf(
      song({
        four: { bars: 2 },
        three: { bars: 2, meters: [threeFour] },
        seven: { bars: 2, meters: [sevenEight], tempo: [{ at: 0, bpm: 150 }], vamp: true },
      }),
    )
    expect(timeline.sections).toEqual([
      {
        id: 'four',
        source: 'four',
        index: 0,
        start: 0,
        end: 7680,
        firstBar: 0,
        bars: 2,
        vamp: false,
        mark: 'A',
      },
      {
        id: 'three',
        source: 'three',
        index: 1,
        start: 7680,
        end: 13440,
        firstBar: 2,
        bars: 2,
        vamp: false,
        mark: 'B',
      },
      {
        id: 'seven',
        source: 'seven',
        index: 2,
        start: 13440,
        end: 20160,
        firstBar: 4,
        bars: 2,
        vamp: true,
        mark: 'C',
      },
    ])
    // Computed: 4 s, 3 s, 2 × 3.5 × 0.4 s.
    expect(secondsAt(timeline.tempo, timeline.length)).toBeCloseTo(9.8, 12)
  })

  it('holds tempo and meter over section ends until changed', () => {
    const { sections, tempo } = timelineOf(
      song({ a: { bars: 1, meters: [threeFour], tempo: [{ at: 960, bpm: 90 }] }, b: { bars: 4 } }),
    )
    expect(sections[1]).toMatchObject({ start: 2880, end: 5 * 2880 })
    expect(bpmAt(tempo, ticks(9999))).toBe(90)
  })

  it('lets a glide go on into the next section, and a mark there cut it', () => {
    const rising = { bars: 1, tempo: [{ at: 1920, bpm: 160, glide: 3840 }] }
    const through = timelineOf(song({ a: rising, b: { bars: 2 } })).tempo
    expect([3840, 5760, 8000].map(t => bpmAt(through, ticks(t)))).toEqual([140, 160, 160])
    const cut = timelineOf(song({ a: rising, b: { bars: 2, tempo: [{ at: 0, bpm: 100 }] } })).tempo
    expect([3839, 3840, 5760].map(t => Math.round(bpmAt(cut, ticks(t))))).toEqual([140, 100, 100])
  })

  it('plays no mark that lies past the end of its section', () => {
    const { tempo, length } = timelineOf(
      song({
        a: { bars: 1, tempo: [{ at: 3840, bpm: 60 }], meters: [{ ...threeFour, bar: 1 }] },
        b: { bars: 1 },
      }),
    )
    expect(bpmAt(tempo, ticks(5000))).toBe(120)
    expect(length).toBe(7680)
  })

  it('finds the section of any tick, and none outside the song', () => {
    const timeline = timelineOf(song({ a: { bars: 1 }, b: { bars: 1 } }))
    const at = (tick: number) => sectionAt(timeline, ticks(tick))?.id ?? null
    expect([-1, 0, 3839.99, 3840, 7679, 7680].map(at)).toEqual([null, 'a', 'a', 'b', 'b', null])
  })

  it('is empty for a song without sections', () => {
    const timeline = timelineOf(song({}))
    expect(timeline).toMatchObject({ sections: [], length: 0 })
    expect(sectionAt(timeline, ticks(0))).toBeNull()
  })

  it('is plain data, the same after structuredClone', () => {
    const timeline = timelineOf(
      song({ a: { bars: 2, tempo: [{ at: 0, bpm: 90, glide: 3840 }] }, b: { bars: 1 } }),
    )
    expect(structuredClone(timeline)).toEqual(timeline)
    expect(JSON.parse(JSON.stringify(timeline))).toEqual(timeline)
  })
})

describe('a copy', () => {
  const verse = { bars: 2, meters: [sevenEight], tempo: [{ at: 0, bpm: 100 }] }
  const bridge = { bars: 1, meters: [{ bar: 0, meter: { beats: 5, unit: 4 } }], tempo: [{ at: 0, bpm: 80 }] }

  it('takes the meters and tempo of its source, and its own number of bars', () => {
    const { sections, tempo } = timelineOf(
      song({ verse, bridge, again: { bars: 3, sameAs: { section: 'verse' } }, end: { bars: 1 } }),
    )
    const [, , again, end] = sections
    expect(again).toMatchObject({
      source: 'verse',
      bars: 3,
      firstBar: 3,
      start: 11520,
      end: 11520 + 3 * 3360,
    })
    expect(bpmAt(tempo, again!.start)).toBe(100)
    expect(end!.end - end!.start).toBe(3360)
  })

  it('begins in the tempo and meter its source began in, where the source has no marks of its own', () => {
    const { sections, tempo } = timelineOf(
      song({ chorus: { bars: 1 }, bridge, again: { bars: 1, sameAs: { section: 'chorus' } } }),
    )
    expect(sections[2]!.end - sections[2]!.start).toBe(3840)
    expect(bpmAt(tempo, sections[2]!.start)).toBe(120)
  })

  it('lasts as long in seconds as its source, whatever stands between them', () => {
    const bpm = fc.integer({ min: 40, max: 200 })
    const at = fc.integer({ min: 0, max: 9000 })
    const glide = fc.option(fc.integer({ min: 1, max: 2000 }), { nil: undefined })
    const meter = fc.record({ beats: fc.integer({ min: 2, max: 9 }), unit: fc.constantFrom(4, 8) })
    const section = fc.record({
      bars: fc.integer({ min: 1, max: 4 }),
      tempo: fc.array(fc.record({ at, bpm, glide }), { maxLength: 3 }),
      meters: fc.array(fc.record({ bar: fc.integer({ min: 0, max: 4 }), meter }), { maxLength: 2 }),
    })
    fc.assert(
      fc.property(section, section, (source, between) => {
        const copy = { bars: source.bars, sameAs: { section: 'source' } }
        // A step on the bar after each keeps the source's own glides inside it, as a copy's are.
        const stop = { bars: 1, tempo: [{ at: 0, bpm: 111 }] }
        const { sections, tempo } = timelineOf(song({ source, stop, between, copy }))
        const [first, , , last] = sections
        const time = (s: typeof first) => secondsAt(tempo, s!.end) - secondsAt(tempo, s!.start)
        expect(last!.end - last!.start).toBe(first!.end - first!.start)
        expect(time(last)).toBeCloseTo(time(first), 9)
      }),
    )
  })

  it('clips marks and glides to its own bars when it is shorter', () => {
    const source = {
      bars: 4,
      tempo: [
        { at: 1920, bpm: 180, glide: 3840 },
        { at: 3840 * 3, bpm: 60 },
      ],
      meters: [{ bar: 2, meter: { beats: 2, unit: 4 } }],
    }
    const { sections, tempo } = timelineOf(
      song({ source, stop: bridge, short: { bars: 1, sameAs: { section: 'source' } }, after: { bars: 1 } }),
    )
    const [, , short, after] = sections
    const from = short!.start
    expect([0, 1920, 2880, 3840, 9000].map(t => bpmAt(tempo, ticks(from + t)))).toEqual([
      120, 120, 135, 150, 150,
    ])
    expect(after!.end - after!.start).toBe(3840)
  })

  it('may stand before its source, and then begins in the tempo and meter that hold', () => {
    const { sections, tempo } = timelineOf(
      song({
        copy: { bars: 1, sameAs: { section: 'source' } },
        source: { bars: 1, tempo: [{ at: 1920, bpm: 70 }] },
      }),
    )
    expect(sections.map(s => s.mark)).toEqual(['A′', 'A'])
    expect([0, 1920, 3840].map(t => bpmAt(tempo, ticks(t)))).toEqual([120, 70, 70])
  })
})

describe('rehearsal marks', () => {
  const marksOf = (sections: Record<string, object>) => timelineOf(song(sections)).sections.map(s => s.mark)
  const copyOf = (section: string) => ({ bars: 1, sameAs: { section } })

  it('gives letters in order, and each copy its source’s letter with one prime more', () => {
    expect(
      marksOf({
        verse: { bars: 1 },
        chorus: { bars: 1 },
        verse2: copyOf('verse'),
        chorus2: copyOf('chorus'),
        bridge: { bars: 1 },
        chorus3: copyOf('chorus'),
        chorus4: copyOf('chorus'),
        chorus5: copyOf('chorus'),
      }),
    ).toEqual(['A', 'B', 'A′', 'B′', 'C', 'B″', 'B‴', 'B‴′'])
  })

  it('keeps a section’s own mark and gives no letter twice', () => {
    expect(
      marksOf({ a: { bars: 1 }, b: { bars: 1, mark: 'B' }, c: { bars: 1 }, d: { bars: 1, mark: 'Coda' } }),
    ).toEqual(['A', 'B', 'C', 'Coda'])
  })

  it('doubles the letters after Z', () => {
    const many = Object.fromEntries(Array.from({ length: 28 }, (_, i) => [`s${i}`, { bars: 1 }]))
    expect(marksOf(many).slice(24)).toEqual(['Y', 'Z', 'AA', 'BB'])
  })
})

it('starts every section on its first bar', () => {
  const meter = fc.record({
    beats: fc.integer({ min: 1, max: 15 }),
    unit: fc.constantFrom(1, 2, 4, 8, 16, 32),
  })
  const section = fc.record({
    bars: fc.integer({ min: 1, max: 8 }),
    meters: fc.array(fc.record({ bar: fc.integer({ min: 0, max: 9 }), meter }), { maxLength: 3 }),
  })
  fc.assert(
    fc.property(fc.array(section, { minLength: 1, maxLength: 6 }), sections => {
      const timeline = timelineOf(song(Object.fromEntries(sections.map((s, i) => [`s${i}`, s]))))
      for (const { start, end, firstBar, bars } of timeline.sections) {
        expect(barStart(timeline.meters, firstBar)).toBe(start)
        expect(barStart(timeline.meters, firstBar + bars)).toBe(end)
      }
      const total = sections.reduce((n, s) => n + s.bars, 0)
      const last = timeline.meters.at(-1)!
      expect(timeline.length).toBe(last.at + (total - last.bar) * ticksPerBar(last.meter))
    }),
  )
})
