// The resistance of copper wire, by the standard it is sold under, at a temperature.

import type { Wire } from '../rig/electric.ts'

/** Resistivity of annealed copper at 20 °C, Ω·m (IACS), and its rise per °C. */
const RESISTIVITY = 1.7241e-8
const RISE = 0.00393

/** A stranded conductor of the same size has so much more (NEC chapter 9, table 8: 4.99 to 4.89 at 16 AWG). */
const STRANDED = 4.99 / 4.89

/** Greatest resistance of flexible plain copper at 20 °C, Ω/km (IEC 60228, class 5), by mm². */
const FLEXIBLE: Readonly<Record<number, number>> = { 0.5: 39, 0.75: 26, 1: 19.5, 1.5: 13.3, 2.5: 7.98 }

/** Diameter of a solid wire, mm (ASTM B258). */
const awgDiameter = (awg: number): number => 0.127 * 92 ** ((36 - awg) / 39)

/** Cross-section, mm². */
export const areaOf = (wire: Wire): number =>
  'mm2' in wire ? wire.mm2 : (Math.PI / 4) * awgDiameter(wire.awg) ** 2

/**
 * Ohms of one metre of one conductor. AWG: annealed copper of that diameter (ASTM B258). mm²: the greatest that IEC 60228 allows a flexible conductor; sizes that are not in its
 * table as the next smaller one that is, by area.
 */
export function resistancePerMetre(wire: Wire, celsius: number): number {
  const warm = 1 + RISE * (celsius - 20)
  if ('awg' in wire) {
    return (RESISTIVITY / (areaOf(wire) * 1e-6)) * warm * (wire.solid ? 1 : STRANDED)
  }
  const listed = Object.keys(FLEXIBLE).map(Number)
  const next =
    listed.filter(size => size <= wire.mm2).reduce((most, size) => Math.max(most, size), 0) || listed[0]!
  return (FLEXIBLE[next]! / 1000) * (next / wire.mm2) * warm
}

const SIXTEEN: Wire = { awg: 16, solid: false }
const EIGHTEEN: Wire = { awg: 18, solid: false }

/**
 * The most that the conductor's overcurrent protection may be, A, where the table has it: copper of 16 AWG 10 A, of
 * 18 AWG 7 A (NEC 2023, 240.4(D)(1) and (2)), larger ones at least as much as 16 AWG. Null: smaller than the table
 * goes. A wire in mm² counts as the AWG size that is not larger than it.
 */
export function overcurrentLimit(wire: Wire): number | null {
  const area = areaOf(wire) + 1e-9
  if (area >= areaOf(SIXTEEN)) return 10
  return area >= areaOf(EIGHTEEN) ? 7 : null
}
