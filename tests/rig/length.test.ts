// Lengths as the rig page says and reads them: metres are stored, feet and inches are a way to say them.

import { lengthIn, lengthScale, lengthText } from '@glowchart/web/rig/length.ts'
import { describe, expect, it } from 'vitest'

describe('a length', () => {
  it('is said to the centimetre or the inch', () => {
    expect(lengthText(4.251, 'metres')).toBe('4.25 m')
    expect(lengthText(-1.75, 'metres')).toBe('−1.75 m')
    // The international foot is 0.3048 m exactly.
    expect(lengthText(6.096, 'feet')).toBe('20 ft')
    expect(lengthText(1.2, 'feet')).toBe('3 ft 11 in')
    expect(lengthText(0.15, 'feet')).toBe('6 in')
    expect(lengthText(-0.6096, 'feet')).toBe('−2 ft')
  })

  it('is read with its unit, or in the one at hand', () => {
    expect(lengthIn('3,5', 'metres')).toBe(3.5)
    expect(lengthIn('5 ft 6 in', 'metres')).toBeCloseTo(1.6764, 9)
    expect(lengthIn('10', 'feet')).toBeCloseTo(3.048, 9)
    expect(lengthIn('40 cm', 'feet')).toBeCloseTo(0.4, 9)
    expect(lengthIn('−2 m', 'metres')).toBe(-2)
    expect(lengthIn('far', 'metres')).toBeNull()
  })

  it('reads back what it says, to half an inch, and steps within its bounds', () => {
    const feet = lengthScale('feet', -3, 3)
    for (const metres of [-2.9, -0.31, 0, 0.02, 1.2, 2.44]) {
      expect(Math.abs(feet.parse(feet.text(metres))! - metres)).toBeLessThanOrEqual(0.0128)
    }
    expect(lengthScale('metres', 0, 2).step(1.93, 4)).toBe(2)
    expect(lengthScale('metres', 0, 2).step(0.52, 1)).toBe(0.55)
  })
})
