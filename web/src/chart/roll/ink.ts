// How light is written on the staff: colour as light, level as brightness and thickness, and a bloom around it.

/** Linear light of a picture, 3 floats a pixel, row after row. */
export interface Sheet {
  readonly width: number
  readonly height: number
  readonly light: Float32Array
}

export const blankSheet = (width: number, height: number): Sheet => ({
  width,
  height,
  light: new Float32Array(width * height * 3),
})

/** Under this pitch (device px a strand) thickness cannot be read, and a strand is a plain stripe. */
const THIN = 2.6
/** Linear light under this is dark: below the first step of 8 bits. */
const DARK = 0.0015

/**
 * Draws one strand's light in one column.
 * @param top of the strand and `pitch`, its height, in px
 */
export function inkStrand(
  sheet: Sheet,
  x: number,
  top: number,
  pitch: number,
  r: number,
  g: number,
  b: number,
): void {
  const level = Math.max(r, g, b)
  if (level < DARK) return
  const thick = pitch < THIN ? pitch : Math.max(1, (pitch - 0.6) * (0.28 + 0.72 * level ** 0.45))
  const from = top + (pitch - thick) / 2
  const to = from + thick
  for (let y = Math.max(0, Math.floor(from)); y < Math.min(sheet.height, to); y++) {
    const cover = Math.min(y + 1, to) - Math.max(y, from)
    const at = (y * sheet.width + x) * 3
    sheet.light[at]! += r * cover
    sheet.light[at + 1]! += g * cover
    sheet.light[at + 2]! += b * cover
  }
}

/** Adds a blurred copy of the light to itself. @param reach of the blur, px; @param amount of it, 0…1 */
export function bloom(sheet: Sheet, reach: number, amount: number): void {
  const { width, height, light } = sheet
  const radius = Math.max(1, Math.round(reach / 2))
  let from = light
  let to = new Float32Array(light.length)
  // Three passes of a box are near enough to a Gaussian (central limit), and cost the same at any reach.
  for (let pass = 0; pass < 3; pass++) {
    const across = new Float32Array(light.length)
    for (let y = 0; y < height; y++) blurRun(from, across, y * width * 3, 3, width, radius)
    to = new Float32Array(light.length)
    for (let x = 0; x < width; x++) blurRun(across, to, x * 3, width * 3, height, radius)
    from = to
  }
  for (let i = 0; i < light.length; i++) light[i]! += amount * to[i]!
}

function blurRun(
  from: Float32Array,
  to: Float32Array,
  start: number,
  stride: number,
  count: number,
  radius: number,
): void {
  const share = 1 / (2 * radius + 1)
  for (let channel = start; channel < start + 3; channel++) {
    let sum = 0
    for (let i = 0; i < Math.min(radius, count); i++) sum += from[channel + i * stride]!
    for (let i = 0; i < count; i++) {
      if (i + radius < count) sum += from[channel + (i + radius) * stride]!
      to[channel + i * stride] = sum * share
      if (i >= radius) sum -= from[channel + (i - radius) * stride]!
    }
  }
}

const STEPS = 4096
/** The sRGB transfer (IEC 61966-2-1), linear 0…1 to 0…255. */
const encoded = Float32Array.from({ length: STEPS + 1 }, (_, i) => {
  const v = i / STEPS
  return 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055)
})

/**
 * Develops the sheet: light over full turns towards white, as a lamp does in a photograph. What is dark is
 * transparent, so that the light lies on the paper as if it were added to it.
 */
export function develop(sheet: Sheet, pixels: Uint8ClampedArray): void {
  const { light } = sheet
  for (let i = 0, p = 0; i < light.length; i += 3, p += 4) {
    let r = light[i]!
    let g = light[i + 1]!
    let b = light[i + 2]!
    const peak = Math.max(r, g, b)
    if (peak < 1e-5) continue
    if (peak > 1) {
      const white = Math.min(1, (peak - 1) * 0.8)
      r = r / peak + (1 - r / peak) * white
      g = g / peak + (1 - g / peak) * white
      b = b / peak + (1 - b / peak) * white
    }
    r = encoded[Math.round(r * STEPS)]!
    g = encoded[Math.round(g * STEPS)]!
    b = encoded[Math.round(b * STEPS)]!
    const alpha = Math.max(r, g, b)
    pixels[p] = (r / alpha) * 255
    pixels[p + 1] = (g / alpha) * 255
    pixels[p + 2] = (b / alpha) * 255
    pixels[p + 3] = alpha
  }
}
