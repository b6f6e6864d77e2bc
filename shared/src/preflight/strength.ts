// The checks of how much light there is, and how fast it flashes, over the whole set.

import type { Advice } from '../advice/advice.ts'
import { screenLimit, venueLimit } from '../advice/flash/limits.ts'
import { counted } from '../advice/words.ts'
import type { Facts } from './facts.ts'
import { foundRow, ofKinds } from './found.ts'
import type { Row } from './row.ts'
import { readSongs } from './set.ts'
import { kitOf } from './stage.ts'

/** Supplies against the brightest moments of tonight's songs. */
export function powerRow(facts: Facts): Row {
  const row = { id: 'power', checked: 'Supplies hold the whole set' } as const
  const read = readSongs(facts)
  const over = ofKinds(read.advice, ['supplyLoad'])
  if (over.length === 0 && read.left > 0) return { ...row, result: 'unknown', says: read.says }
  const boxes = Object.entries(kitOf(facts).boxes)
  const armed = boxes.filter(([, box]) => box.powerLimit !== undefined).length
  const limits = armed === 0 ? 'No power limit is armed' : `Power limits: ${armed} of ${boxes.length} armed`
  const good = `No supply is loaded beyond its share in ${counted(read.count, 'song')}. ${limits}.`
  const toArm = unarmed(facts, over)
  return foundRow(
    row,
    over,
    good,
    'rig',
    toArm.length > 0 ? { do: 'arm', limits: toArm } : { do: 'go', place: 'rig' },
  )
}

/** The limits that keep the boxes of this advice within what their supplies may give for long. */
function unarmed({ rig }: Facts, over: readonly Advice[]): { box: string; amps: number }[] {
  const boxes = [...new Set(over.flatMap(one => one.place.boxes ?? []))]
  return boxes.flatMap(box => {
    const supply = rig.boxes[box]?.supply
    return supply ? [{ box, amps: Math.floor(supply.amps * supply.continuousShare * 100) / 100 }] : []
  })
}

export function flashRow(facts: Facts): Row {
  const row = { id: 'flash', checked: 'Flashing light in the whole set' } as const
  const read = readSongs(facts)
  const found = ofKinds(read.advice, ['fastFlashes', 'longFlashing'])
  if (found.length === 0 && read.left > 0) return { ...row, result: 'unknown', says: read.says }
  const good = `No song of ${counted(read.count, 'song')} flashes faster than 3 times a second, or for long.`
  return foundRow(row, found, good, 'chart')
}

/** What the house allows stands with the kit; Glowchart cannot know what it is. */
export function strobeRow(facts: Facts): Row {
  const row = { id: 'strobe', checked: 'Strobes as the house allows' } as const
  const cap = kitOf(facts).venue?.strobes
  if (facts.status?.live.strobeStop) {
    return { ...row, result: 'good', says: 'Strobes are stopped by hand: they show their mean.' }
  }
  if (cap === 'none') return { ...row, result: 'good', says: 'No strobes tonight: they show their mean.' }
  const read = readSongs(facts)
  const flashes = ofKinds(read.advice, ['fastFlashes']).length > 0
  if (cap !== undefined && cap > venueLimit.flashes && flashes) {
    return {
      ...row,
      result: 'heed',
      says: `Strobes are held above ${cap} flashes a second only, more than the ${venueLimit.flashes} of ${venueLimit.source}.`,
      remedy: 'Ask the house what it allows, and set that.',
      mend: { do: 'limitStrobes', flashes: screenLimit.flashes },
    }
  }
  if (cap !== undefined) {
    return { ...row, result: 'good', says: `Strobes faster than ${cap} flashes a second show their mean.` }
  }
  if (flashes) {
    return {
      ...row,
      result: 'heed',
      says: 'No limit is set for this venue, and songs of tonight flash fast.',
      remedy: `Ask the house, and set its limit at tonight’s venue; ${screenLimit.flashes} a second is within the limits of ${screenLimit.source}.`,
      mend: { do: 'limitStrobes', flashes: screenLimit.flashes },
    }
  }
  if (read.left > 0) return { ...row, result: 'unknown', says: read.says }
  return {
    ...row,
    result: 'good',
    says: 'No limit is set, and nothing flashes faster than 3 times a second.',
  }
}
