// Chromaticity: CIE 1976 u′v′ of linear sRGB light.

// Linear sRGB → X + 15Y + 3Z, 4X and 9Y, from the matrix of IEC 61966-2-1.
const sum = (r: number, g: number, b: number): number => 3.65996841 * r + 11.44269888 * g + 4.11496204 * b

/** u′ of linear RGB that is not black. */
export const uOf = (r: number, g: number, b: number): number =>
  (4 * (0.4123908 * r + 0.35758434 * g + 0.18048079 * b)) / sum(r, g, b)

/** v′ of linear RGB that is not black. */
export const vOf = (r: number, g: number, b: number): number =>
  (9 * (0.21263901 * r + 0.71516868 * g + 0.07219232 * b)) / sum(r, g, b)

/** Δu′v′: the distance between two colours of light, neither of them black. */
export const chromaticityShift = (
  a: readonly [r: number, g: number, b: number],
  b: readonly [r: number, g: number, b: number],
): number => Math.hypot(uOf(...a) - uOf(...b), vOf(...a) - vOf(...b))
