// Strobes under the venue's limit: they do not flash, the advice says so and what they show instead, in their own cues.

import { adviseShow } from '@glowchart/shared/advice/advise.ts'
import { remediesOf } from '@glowchart/shared/advice/remedy/remedy.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { cueSchema } from '@glowchart/shared/show/song.ts'
import type { Venue } from '@glowchart/shared/show/venue.ts'
import { contentOf } from '@glowchart/web/chart/roll/content.ts'
import { expect, it } from 'vitest'
import { sampleShow } from './sampleShow.ts'

const BAR = 3840

/** The sample at 120 BPM with sixteenth-note strobes (8 a second), a quarter of the time lit, in bars 2 and 3. */
function strobing(venue?: Venue) {
  const { rig, show } = sampleShow()
  show.songs.song!.sections.verse!.cues.first = cueSchema.parse({
    track: 'high',
    at: BAR,
    length: 2 * BAR,
    light: {
      level: 1,
      colours: { along: 'none', colour: { hex: '#ffffff' } },
      motion: { kind: 'strobe', rate: { ticks: 240 }, spread: 0, duty: 0.25 },
    },
  })
  if (venue) show.kits.kit!.venue = venue
  return { rig, show }
}
const adviceWith = (venue?: Venue) => {
  const { rig, show } = strobing(venue)
  return adviseShow(rig, show, 'kit')
}

it('stops on the strobe where no limit is armed, and on one that the limit lets through', () => {
  expect(adviceWith().map(a => [a.kind, a.severity])).toEqual([['fastFlashes', 'stop']])
  expect(adviceWith({ strobes: 8 }).map(a => a.kind)).toEqual(['fastFlashes'])
  expect(adviceWith({ strobes: 8 })[0]!.says).toContain(
    "Tonight's limit on strobes (8 a second) does not prevent it.",
  )
})

it('notes under an armed limit that it does not flash, and at what it stands', () => {
  expect(adviceWith({ strobes: 4 })).toEqual([
    {
      kind: 'strobeHeld',
      severity: 'note',
      place: {
        song: 'song',
        section: 'verse',
        bars: [{ from: 2, to: 3 }],
        parts: ['high'],
        cues: [{ section: 'verse', cue: 'first' }],
      },
      brief: 'Strobe held, limit 4/s',
      says: '“Marmalade Weather”, bars 2 to 3: 1 strobe of High tubes does not flash tonight (at most 4 flashes a second), and stands steady at the mean, 25 % of the full light.',
      remedy: 'Nothing needs to be done. To see it flash, slow it to 4 flashes a second or fewer.',
      source: expect.stringContaining('venue'),
    },
  ])
  expect(adviceWith({ strobes: 'none' })[0]!.says).toContain('(no strobe is allowed)')
})

it('offers to slow it to what the venue allows, and within 3 a second', () => {
  const { rig, show } = strobing({ strobes: 4 })
  const [advice] = adviseShow(rig, show, 'kit')
  expect(remediesOf({ rig, show }, 'kit', advice!).map(r => r.label)).toEqual([
    expect.stringMatching(/^Slow .* to 1\/4 notes \(2 a second at 120 BPM\)$/),
  ])
  expect(remediesOf(strobing({ strobes: 'none' }), 'kit', advice!)).toEqual([])
})

it('offers nothing for a song, a kit or a cue that is gone by now', () => {
  const { rig, show } = strobing()
  const [advice] = adviseShow(rig, show, 'kit')
  expect(remediesOf({ rig, show }, 'van', advice!)).toEqual([])
  delete show.songs.song!.sections.verse!.cues.first
  expect(remediesOf({ rig, show }, 'kit', advice!)).toEqual([])
  expect(remediesOf({ rig, show: { ...show, songs: {} } }, 'kit', advice!)).toEqual([])
})

it('is another picture in the light roll', () => {
  const content = (venue?: Venue) => {
    const { rig, show } = strobing(venue)
    return contentOf(compileSong(rig, show, 'kit', 'song'), [0, BAR], 40)
  }
  expect(content({ strobes: 4 })).not.toBe(content())
  expect(content({ lightOffset: 20 })).toBe(content())
})

it('slows parts that are within the limit each, and beyond it together, in proportion; no limit on strobes would help', () => {
  const { rig, show } = strobing()
  const { verse } = show.songs.song!.sections
  const part = (track: string, origin: number) =>
    cueSchema.parse({
      track,
      at: BAR,
      length: 2 * BAR,
      origin,
      light: {
        level: 1,
        colours: { along: 'none', colour: { hex: '#ffffff' } },
        motion: { kind: 'strobe', rate: { hz: 3 }, spread: 0, duty: 0.2 },
      },
    })
  verse!.cues = { first: part('high', 0), second: part('low', 320) }
  const [advice] = adviseShow(rig, show, 'kit')
  expect(advice).toMatchObject({ kind: 'fastFlashes', flashes: 6 })
  const [slow, ...others] = remediesOf({ rig, show }, 'kit', advice!)
  expect(others.map(r => r.says)).toEqual(['Hold 2 cues steady'])
  const next = slow!.edits.reduce((now, [name, args]) => applyEdit(now, name, args).next, {
    rig,
    show,
  } as Documents)
  expect(adviseShow(next.rig, next.show, 'kit')).toEqual([])
})

it('is told at its bars where frames and bars do not meet', () => {
  for (const bpm of [97, 112, 133.3]) {
    for (const venue of [{}, { strobes: 4 }]) {
      const { rig, show } = strobing(venue)
      show.songs.song!.bpm = bpm
      expect(adviseShow(rig, show, 'kit').map(a => a.place.bars)).toEqual([[{ from: 2, to: 3 }]])
    }
  }
})
