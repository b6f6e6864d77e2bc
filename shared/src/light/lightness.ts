// CIE 1976 lightness: how bright an amount of light looks, and back. Levels and fades live on this scale.

// CIE 15: the constants as exact fractions, so that both branches meet.
const KAPPA = 24389 / 27
const EPSILON = 216 / 24389

/** Luminance (0…1, linear light) of a lightness of 0…1, which stands for L* 0…100. Strictly rising. Source: CIE 15. */
export function luminanceOf(lightness: number): number {
  const f = (100 * lightness + 16) / 116
  return lightness > 0.08 ? f * f * f : (100 * lightness) / KAPPA
}

/** Lightness (0…1 for L* 0…100) of a luminance of 0…1: the inverse of `luminanceOf`. Source: CIE 15. */
export function lightnessOf(luminance: number): number {
  return luminance > EPSILON ? (116 * Math.cbrt(luminance) - 16) / 100 : (KAPPA * luminance) / 100
}
