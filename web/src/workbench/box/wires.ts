// The wires that a cable can be chosen from.

import type { Wire } from '@glowchart/shared/rig/electric.ts'
import { wireText } from '../../rig/words.ts'

const awg = [10, 12, 14, 16, 18, 20, 22, 24] as const
const mm2 = [0.25, 0.34, 0.5, 0.75, 1, 1.5, 2.5, 4] as const

/** Sizes as they are commonly sold, thick to thin, and the wire's own if it is none of them. */
export function wireChoices(own: Wire): readonly (readonly [string, Wire])[] {
  const sold: Wire[] = [
    ...awg.map(size => ({ awg: size, solid: false })),
    ...mm2.map(size => ({ mm2: size })),
  ]
  const all = sold.some(wire => wireText(wire) === wireText(own)) ? sold : [own, ...sold]
  return all.map(wire => [wireText(wire), wire] as const)
}
