// sRGB: colours as people pick and screens show them, to and from linear light.

/** Three shares of linear light (sRGB primaries, D65), each 0…1. */
export type LinearRgb = readonly [red: number, green: number, blue: number]

/** Linear light (0…1) of an sRGB value (0…1). Source: IEC 61966-2-1. */
export function decodeSrgb(value: number): number {
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4
}

/** sRGB value (0…1) of linear light (0…1): the inverse of `decodeSrgb`. Source: IEC 61966-2-1. */
export function encodeSrgb(light: number): number {
  return light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055
}

/** Linear light of a colour written #rrggbb. */
export function linearOfHex(hex: string): LinearRgb {
  const channel = (at: number) => decodeSrgb(Number.parseInt(hex.slice(at, at + 2), 16) / 255)
  return [channel(1), channel(3), channel(5)]
}
