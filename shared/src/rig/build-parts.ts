// The parts list of a build: what its strip and its plug need, and what all of it costs.

import { cutOf } from '../power/draw.ts'
import type { Build } from './schema.ts'

type Part = Build['parts'][number]

/**
 * The strip and the plug that a build needs, by its own figures. Strip is bought by whole segments; a plug has a
 * contact for each of its own. Parts of the same name keep the price that they have.
 */
export function partsNeeded(build: Pick<Build, 'draw' | 'volts' | 'contacts' | 'parts'>): Part[] {
  const { draw, volts, contacts } = build
  const needed: Part[] = []
  const cut = cutOf(build)
  if (cut && draw.from === 'strip') {
    const what = `Strip, ${volts} V, ${draw.ledsPerMetre} LEDs a metre, metres`
    needed.push({ what, count: Number(cut.metres.toFixed(3)) })
  } else if (draw.from === 'watts') {
    needed.push({ what: `Strip, ${volts} V, ${draw.wattsPerMetre} W a metre, metres`, count: draw.metres })
  }
  needed.push({ what: `Plug, ${contacts.length} contacts`, count: 1 })
  return needed.map(part => {
    const price = build.parts.find(known => known.what === part.what)?.price
    return price === undefined ? part : { ...part, price }
  })
}

/** What the parts cost together, in the owner's money, and how many have no price yet. */
export function costOf(parts: readonly Part[]): { sum: number; unpriced: number } {
  return {
    sum: parts.reduce((sum, { count, price }) => sum + count * (price ?? 0), 0),
    unpriced: parts.filter(({ price }) => price === undefined).length,
  }
}
