// The notice on flashing light for the house: what was found, what is armed, how large light looks from where.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { flashNotice } from '@glowchart/shared/paper/flash-notice.ts'
import { expect, it } from 'vitest'

const flash = (song: string, flashes: number): Advice => ({
  kind: 'fastFlashes',
  severity: 'stop',
  place: { song },
  flashes,
  says: '',
  remedy: '',
})

it('gives the audience a notice as soon as one song flashes, with how many do and how fast', () => {
  const { audience, found } = flashNotice([flash('one', 8), flash('one', 11.5), flash('two', 5)], undefined)
  expect(audience).toMatch(/^Flashing light is used in this performance\. .*photosensitive epilepsy/)
  expect(found).toMatch(
    /in 2 songs of tonight, up to 11\.5 times a second\. Please post this at the entrance/,
  )
})

it('claims no more than that nothing was found where no song flashes', () => {
  const { audience, found } = flashNotice([], undefined)
  expect(audience).toBeNull()
  expect(found).toMatch(/^In no song of tonight .*as written\..*post a notice where in doubt\.$/)
})

it('says which limit is armed, and that it holds strobes only', () => {
  const limit = (strobes?: number | 'none') => flashNotice([], strobes === undefined ? {} : { strobes }).limit
  expect(limit()).toMatch(/^No limit on strobes is armed/)
  expect(limit('none')).toMatch(/^No strobe flashes tonight.*Other light can still flash/)
  expect(limit(3)).toBe(
    'Strobes faster than 3 flashes a second stand steady tonight. Other light can still flash.',
  )
  expect(limit(8)).toMatch(/more than the 3 of the limits below/)
})

// W3C WCAG 2.2, SC 2.3.1: 0.006 sr within any 10 degree visual field; areas and discs computed from it.
it('says from where how much light is small, and that it does not count on it', () => {
  expect(flashNotice([], undefined).size).toContain(
    'from 5 m 0.15 m² in a disc 0.87 m across, from 10 m 0.60 m² in a disc 1.75 m across, from 20 m 2.40 m² in a disc 3.50 m across, from 30 m 5.40 m² in a disc 5.25 m across (adapted: none of these standards covers stage lamps). We do not count on it',
  )
})
