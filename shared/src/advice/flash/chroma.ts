// Chromaticity for the red flash: CIE 1976 u′v′ of linear sRGB light, and when a colour is saturated red.

/** u′, v′ of the white point (D65): what black, which has no chromaticity of its own, is taken for. */
export const WHITE_U = 0.19783
export const WHITE_V = 0.46832
/** u′, v′ of the sRGB red primary. */
export const RED_U = 0.4507
export const RED_V = 0.52289

/** Light weaker than half a step of an 8-bit decoder is dark. */
const DARK = 1 / 510

/** Relative luminance of linear RGB (W3C WCAG 2.2, IEC 61966-2-1). */
export const luminance = (r: number, g: number, b: number): number => 0.2126 * r + 0.7152 * g + 0.0722 * b

export const isDark = (r: number, g: number, b: number): boolean => r < DARK && g < DARK && b < DARK

/** R / (R + G + B) is 0.8 or more (W3C WCAG 2.2, note on the red flash). The small allowance is for 32-bit floats. */
export const isSaturatedRed = (r: number, g: number, b: number): boolean => r >= (0.8 - 1e-6) * (r + g + b)

// Linear sRGB → X + 15Y + 3Z, 4X and 9Y, from the matrix of IEC 61966-2-1.
const sum = (r: number, g: number, b: number): number => 3.65996841 * r + 11.44269888 * g + 4.11496204 * b

/** u′ of linear RGB that is not black. */
export const uOf = (r: number, g: number, b: number): number =>
  (4 * (0.4123908 * r + 0.35758434 * g + 0.18048079 * b)) / sum(r, g, b)

/** v′ of linear RGB that is not black. */
export const vOf = (r: number, g: number, b: number): number =>
  (9 * (0.21263901 * r + 0.71516868 * g + 0.07219232 * b)) / sum(r, g, b)
