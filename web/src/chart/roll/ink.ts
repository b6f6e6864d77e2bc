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

export function clearColumn({ width, light }: Sheet, x: number): void {
  for (let at = x * 3; at < light.length; at += width * 3) light[at] = light[at + 1] = light[at + 2] = 0
}

/** A blur has no detail finer than a good part of its reach: it is made so many times smaller. */
const shrinking = (reach: number): number => Math.max(1, Math.floor(reach / 2.4))
const radiusOf = (reach: number): number => Math.max(1, Math.round(reach / 2 / shrinking(reach)))
/** Three passes of a box are near enough to a Gaussian (central limit), and cost the same at any reach. */
const PASSES = 3

/** How far from a px its bloom can be seen, px. @param reach of the blur, px */
export const bloomReach = (reach: number): number => (PASSES * radiusOf(reach) + 2) * shrinking(reach)

/**
 * A copy of the columns from `first` to before `end` at least, as far as there are any, to bloom alone: it begins where
 * the blur of the whole has a px begin.
 */
export function cutOut(
  { width, height, light }: Sheet,
  first: number,
  end: number,
  reach: number,
): { sheet: Sheet; from: number } {
  const by = shrinking(reach)
  const from = Math.floor(Math.max(0, first) / by) * by
  const to = Math.min(width, end)
  const sheet = blankSheet(to - from, height)
  for (let y = 0; y < height; y++) {
    sheet.light.set(light.subarray((y * width + from) * 3, (y * width + to) * 3), y * sheet.width * 3)
  }
  return { sheet, from }
}

/** Adds a blurred copy of the light to itself. @param reach of the blur, px; @param amount of it, 0…1 */
export function bloom(sheet: Sheet, reach: number, amount: number): void {
  const by = shrinking(reach)
  const radius = radiusOf(reach)
  const small = shrunk(sheet, by)
  for (let pass = 0; pass < PASSES; pass++) {
    blurRows(small, radius)
    blurColumns(small, radius)
  }
  addEnlarged(sheet, small, by, amount)
}

/** The mean of every `by` × `by` px. */
function shrunk({ width, height, light }: Sheet, by: number): Sheet {
  const small = blankSheet(Math.ceil(width / by), Math.ceil(height / by))
  const share = 1 / (by * by)
  for (let y = 0; y < height; y++) {
    const row = Math.floor(y / by) * small.width
    for (let x = 0; x < width; x++) {
      const to = (row + Math.floor(x / by)) * 3
      const from = (y * width + x) * 3
      small.light[to]! += light[from]! * share
      small.light[to + 1]! += light[from + 1]! * share
      small.light[to + 2]! += light[from + 2]! * share
    }
  }
  return small
}

function blurRows({ width, height, light }: Sheet, radius: number): void {
  const share = 1 / (2 * radius + 1)
  const row = new Float32Array(width * 3)
  for (let start = 0; start < height * width * 3; start += width * 3) {
    row.set(light.subarray(start, start + width * 3))
    for (let channel = 0; channel < 3; channel++) {
      let sum = 0
      for (let x = 0; x < Math.min(radius, width); x++) sum += row[x * 3 + channel]!
      for (let x = 0; x < width; x++) {
        if (x + radius < width) sum += row[(x + radius) * 3 + channel]!
        light[start + x * 3 + channel] = sum * share
        if (x >= radius) sum -= row[(x - radius) * 3 + channel]!
      }
    }
  }
}

/** Row by row, with the sums of all columns at hand: columns one by one would be read all over the memory. */
function blurColumns({ width, height, light }: Sheet, radius: number): void {
  const share = 1 / (2 * radius + 1)
  const run = width * 3
  const from = light.slice()
  const sums = new Float64Array(run)
  const add = (y: number, sign: number) => {
    for (let i = 0, at = y * run; i < run; i++, at++) sums[i]! += sign * from[at]!
  }
  for (let y = 0; y < Math.min(radius, height); y++) add(y, 1)
  for (let y = 0; y < height; y++) {
    if (y + radius < height) add(y + radius, 1)
    for (let i = 0, at = y * run; i < run; i++, at++) light[at] = sums[i]! * share
    if (y >= radius) add(y - radius, -1)
  }
}

/** Adds `small`, drawn so many times as large with what lies between its px interpolated. */
function addEnlarged({ width, height, light }: Sheet, small: Sheet, by: number, amount: number): void {
  const run = small.width * 3
  const row = new Float32Array(run)
  for (let y = 0; y < height; y++) {
    const middle = Math.max(0, (y + 0.5) / by - 0.5)
    const above = Math.floor(middle)
    const below = Math.min(small.height - 1, above + 1)
    const down = (middle - above) * amount
    const up = amount - down
    for (let i = 0; i < run; i++) {
      row[i] = up * small.light[above * run + i]! + down * small.light[below * run + i]!
    }
    for (let x = 0, at = y * width * 3; x < width; x++, at += 3) {
      const place = Math.max(0, (x + 0.5) / by - 0.5)
      const left = Math.floor(place)
      const share = place - left
      const a = left * 3
      const b = Math.min(small.width - 1, left + 1) * 3
      light[at]! += row[a]! + share * (row[b]! - row[a]!)
      light[at + 1]! += row[a + 1]! + share * (row[b + 1]! - row[a + 1]!)
      light[at + 2]! += row[a + 2]! + share * (row[b + 2]! - row[a + 2]!)
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
 * Develops a sheet into the columns of a picture from `first` to before `end`: light over full turns towards white, as a
 * lamp does in a photograph. What is dark is transparent, so that the light lies on the paper as if it were added to it.
 * @param left column of the picture that the sheet begins at
 */
export function develop(
  { width, height, light }: Sheet,
  left: number,
  picture: { readonly width: number; readonly data: Uint8ClampedArray },
  first: number,
  end: number,
): void {
  const { data } = picture
  for (let y = 0; y < height; y++) {
    let i = (y * width + first - left) * 3
    let p = (y * picture.width + first) * 4
    for (let x = first; x < end; x++, i += 3, p += 4) {
      let r = light[i]!
      let g = light[i + 1]!
      let b = light[i + 2]!
      const peak = Math.max(r, g, b)
      if (peak < 1e-5) {
        data[p] = data[p + 1] = data[p + 2] = data[p + 3] = 0
        continue
      }
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
      data[p] = (r / alpha) * 255
      data[p + 1] = (g / alpha) * 255
      data[p + 2] = (b / alpha) * 255
      data[p + 3] = alpha
    }
  }
}
