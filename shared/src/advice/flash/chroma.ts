// Chromaticity for the red flash: its fixed points in CIE 1976 u′v′, and when a colour is saturated red.

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
