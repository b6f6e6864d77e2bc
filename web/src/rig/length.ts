// Lengths as they are said and typed: in metres, or in feet and inches; the documents hold metres.

import { usePreferences } from '../document/preferences.ts'

export type LengthUnit = 'metres' | 'feet'

/** International foot, m (1959 agreement, exact). */
export const FOOT = 0.3048

export const useLengthUnit = (): LengthUnit => usePreferences(s => s.lengths)

/** "4.25 m", or "13 ft 11 in"; to the centimetre or the inch. */
export function lengthText(metres: number, unit: LengthUnit): string {
  if (unit === 'metres') return `${Number(metres.toFixed(2))} m`.replace('-', '−')
  const inches = Math.round((Math.abs(metres) / FOOT) * 12)
  const [feet, rest] = [Math.floor(inches / 12), inches % 12]
  const sign = metres < 0 && inches > 0 ? '−' : ''
  if (rest === 0) return `${sign}${feet} ft`
  return feet === 0 ? `${sign}${rest} in` : `${sign}${feet} ft ${rest} in`
}

/** Metres that a text says: a plain number is in the unit at hand; "3 m", "12 ft", "5 ft 6 in", "30 in", "40 cm". */
export function lengthIn(text: string, unit: LengthUnit): number | null {
  const factors: Record<string, number> = {
    m: 1,
    cm: 0.01,
    ft: FOOT,
    in: FOOT / 12,
    "'": FOOT,
    '"': FOOT / 12,
  }
  const written = text.replace(/,/g, '.').replace(/−/g, '-')
  const parts = [...written.matchAll(/(\d+(?:\.\d+)?|\.\d+)\s*(cm|m|ft|in|'|")?/g)]
  if (parts.length === 0) return null
  const plain = unit === 'metres' ? 1 : FOOT
  const sum = parts.reduce((total, [, n, of]) => total + Number(n) * (of ? factors[of]! : plain), 0)
  return /^\s*-/.test(written) ? -sum : sum
}

/** What a figure needs to know about a length. */
interface LengthScale {
  readonly first: number
  readonly text: (metres: number) => string
  readonly number: (metres: number) => number
  readonly parse: (text: string) => number | null
  readonly step: (metres: number, n: number) => number
}

/** A length between two bounds, m, for a figure; it steps by 5 cm, or by an inch. */
export function lengthScale(unit: LengthUnit, least: number, most: number): LengthScale {
  const held = (metres: number) => Math.min(most, Math.max(least, Number(metres.toFixed(3))))
  const by = unit === 'metres' ? 0.05 : FOOT / 12
  return {
    first: held(1),
    text: metres => lengthText(metres, unit),
    number: metres => Number((unit === 'metres' ? metres : metres / FOOT).toFixed(2)),
    parse: text => {
      const metres = lengthIn(text, unit)
      return metres === null ? null : held(metres)
    },
    step: (metres, n) => held(Math.round(metres / by + n) * by),
  }
}
