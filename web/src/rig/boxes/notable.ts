// What a cable does to a light, in words, where it is worth a word.

import type { AtTheLight } from '@glowchart/shared/power/drop.ts'

/** Light lost that is seen beside another light; common practice, no source. */
const DIM = 0.9
/**
 * Δu′v′ from which two whites side by side look unlike: three steps of 0.0011, the radius of a one-step circle in the
 * u′v′ diagram (CIE TN 001:2014, from memory).
 */
const SHIFT = 0.0033

/** "84 % bright, Δu′v′ 0.012"; null when neither is notable. */
export function notableText({ brightness, shift }: AtTheLight): string | null {
  const words = [
    ...(brightness < DIM ? [`${Math.round(brightness * 100)} % bright`] : []),
    ...(shift > SHIFT ? [`white ${shift > 0.01 ? 'clearly ' : ''}off by Δu′v′ ${shift.toFixed(3)}`] : []),
  ]
  return words.length > 0 ? words.join(', ') : null
}
