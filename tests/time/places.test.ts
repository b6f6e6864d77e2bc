// Cues as played: in their sections, in copies of them, and at the song's start.
import { cuePlaces, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { describe, expect, it } from 'vitest'
import { cue, song } from './songs.ts'

const placesOf = (sections: Record<string, object>) => {
  const whole = song(sections)
  return cuePlaces(whole, timelineOf(whole))
}
const brief = (sections: Record<string, object>) =>
  placesOf(sections).map(p => [p.section, p.sourceSection, p.id, p.at, p.length])

describe('a cue', () => {
  it('stands at its section’s start plus its own, in order of time', () => {
    expect(
      brief({
        a: { bars: 1, cues: { late: cue('t', 1920, 960), early: cue('t', 0, 960) } },
        b: { bars: 1, cues: { z: cue('t', 0, 960), y: cue('u', 0, 960) } },
      }),
    ).toEqual([
      ['a', 'a', 'early', 0, 960],
      ['a', 'a', 'late', 1920, 960],
      ['b', 'b', 'y', 3840, 960],
      ['b', 'b', 'z', 3840, 960],
    ])
  })

  it('may run past its section’s end, and start in the bar before', () => {
    expect(
      brief({
        a: { bars: 1, cues: { long: cue('t', 1920, 9600) } },
        b: { bars: 1, cues: { pickUp: cue('t', -480, 1440) } },
      }),
    ).toEqual([
      ['a', 'a', 'long', 1920, 9600],
      ['b', 'b', 'pickUp', 3360, 1440],
    ])
  })

  it('comes in order of section, then of id, among cues on one tick', () => {
    const places = brief({
      a: { bars: 1, cues: { m: cue('t', 1920, 960), k: cue('u', 1920, 960) } },
      b: { bars: 1, cues: { a: cue('t', -1920, 960) } },
    })
    expect(places.map(p => p[2])).toEqual(['k', 'm', 'a'])
  })

  it('is not played when it starts at or after its section’s end', () => {
    expect(brief({ a: { bars: 1, cues: { gone: cue('t', 3840, 960), kept: cue('t', 3839, 960) } } })).toEqual(
      [['a', 'a', 'kept', 3839, 960]],
    )
  })
})

describe('a pick-up before the song’s start', () => {
  it('keeps what lies after the start, looking as if the rest had been there', () => {
    const light = {
      level: [
        { at: 0, level: 0 },
        { at: 960, level: 1 },
      ],
      colours: { along: 'time', stops: [0, 1].map(at => ({ at, colour: { hex: '#102030' } })) },
      motion: { kind: 'chase' },
    }
    const fadeIn = { length: 960, curve: 'soft', cut: 100 }
    const [place] = placesOf({
      a: { bars: 1, cues: { p: cue('t', -480, 1920, { fadeIn, origin: 40, light }) } },
    })
    expect(place).toMatchObject({ at: 0, length: 1440 })
    expect(place!.cue).toMatchObject({
      at: 0,
      length: 1440,
      origin: 40 - 480,
      fadeIn: { length: 960, cut: 580 },
      light: {
        level: [
          { at: -480, level: 0 },
          { at: 480, level: 1 },
        ],
        colours: { length: 1920 },
      },
    })
  })

  it('has no fade left when the fade lies before the start, and no place when all of it does', () => {
    const fadeIn = { length: 240 }
    const places = placesOf({
      a: { bars: 1, cues: { faded: cue('t', -480, 960, { fadeIn }), gone: cue('t', -480, 480) } },
    })
    expect(places.map(p => p.id)).toEqual(['faded'])
    expect(places[0]!.cue.fadeIn).toMatchObject({ length: 240, cut: 240 })
  })

  it('leaves a cue that plays a look its look', () => {
    const [place] = placesOf({
      a: { bars: 1, cues: { p: cue('t', -480, 960, { light: { look: 'ember' } }) } },
    })
    expect(place).toMatchObject({ at: 0, length: 480, cue: { origin: -480, light: { look: 'ember' } } })
  })
})

describe('a copy', () => {
  const source = {
    bars: 2,
    cues: {
      pickUp: cue('keys', -480, 960),
      first: cue('drums', 0, 3840),
      across: cue('drums', 1920, 5760),
      over: cue('keys', 1920, 6720),
      second: cue('drums', 3840, 960),
    },
  }
  const before = { bars: 1 }

  it('plays its source’s cues at its own place, and none of its own', () => {
    const copy = { bars: 2, sameAs: { section: 'source' }, cues: { own: cue('drums', 0, 10) } }
    const places = brief({ before, source, copy })
    const length = 2 * 3840
    const of = (section: string) => places.filter(p => p[0] === section)
    expect(of('copy')).toEqual(
      of('source').map(([, , id, at, l]) => ['copy', 'source', id, (at as number) + length, l]),
    )
    expect(of('source')).toHaveLength(5)
  })

  it('plays its own cues on freed tracks', () => {
    const copy = {
      bars: 2,
      sameAs: { section: 'source', freed: ['drums'] },
      cues: { own: cue('drums', 960, 20_000), other: cue('keys', 0, 960) },
    }
    expect(brief({ source, copy }).filter(p => p[0] === 'copy')).toEqual([
      ['copy', 'source', 'pickUp', 7680 - 480, 960],
      ['copy', 'copy', 'own', 7680 + 960, 20_000],
      ['copy', 'source', 'over', 7680 + 1920, 6720],
    ])
  })

  it('that is shorter drops what starts past its end and brings later ends forward', () => {
    const copy = { bars: 1, sameAs: { section: 'source' } }
    const at = 2 * 3840
    expect(brief({ source, copy }).filter(p => p[0] === 'copy')).toEqual([
      ['copy', 'source', 'pickUp', at - 480, 960],
      ['copy', 'source', 'first', at, 3840],
      // Ran to the source's end: runs to the copy's.
      ['copy', 'source', 'across', at + 1920, 1920],
      // Ran 960 ticks past the source's end: runs 960 past the copy's.
      ['copy', 'source', 'over', at + 1920, 1920 + 960],
    ])
  })

  it('that is longer plays the same cues at the same lengths', () => {
    const copy = { bars: 5, sameAs: { section: 'source' } }
    const places = brief({ before, source, copy })
    const lengths = (section: string) => places.filter(p => p[0] === section).map(p => [p[2], p[4]])
    expect(lengths('copy')).toEqual(lengths('source'))
  })

  it('of another copy goes one step only', () => {
    const sections = {
      source,
      copy: { bars: 1, sameAs: { section: 'source' }, cues: { own: cue('drums', 0, 10) } },
      copyOfCopy: { bars: 1, sameAs: { section: 'copy' } },
    }
    expect(brief(sections).filter(p => p[0] === 'copyOfCopy')).toEqual([
      ['copyOfCopy', 'copy', 'own', 3 * 3840, 10],
    ])
  })
})
