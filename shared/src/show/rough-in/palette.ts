// The colours of a rough-in: pairs of the show's swatches that suit each other, by their hue in OKLab.

import { linearOfOklab, oklabOf } from '../../light/oklab.ts'
import type { Colour } from '../../light/schema.ts'
import { encodeSrgb, linearOfHex } from '../../light/srgb.ts'
import type { Show } from '../schema.ts'
import { chosen, shareFor } from './chance.ts'
import { type Mood, moodPlans } from './moods.ts'

/** A mood's colours. */
export interface Tints {
  readonly first: Colour
  readonly second: Colour
  readonly pale: Colour
}

interface Tone {
  readonly colour: Colour
  /** Degrees. */
  readonly hue: number
  readonly chroma: number
  readonly lightness: number
}

/** Fewer swatches than this leave no choice; then the colours are made here. */
const ENOUGH = 3
/** From this OKLab chroma on a colour has a hue that counts. */
const COLOURFUL = 0.07

/** The colours of every mood for a seed: the same base all through a song, other companions a mood. */
export function tintsOf(show: Show, seed: number): (mood: Mood) => Tints {
  const tones = tonesOf(show, seed)
  const hued = tones.filter(tone => tone.chroma >= COLOURFUL)
  const base = chosen(hued, seed, 'base colour')
  const far = nearest(hued, tone => Math.abs(hueApart(tone, base) - 180))
  const pale = nearest(tones, tone => tone.chroma - 0.5 * tone.lightness)
  return mood => {
    const plan = moodPlans[mood]
    const first = plan.farSide ? far : base
    const others = hued.filter(tone => tone !== first)
    const second = nearest(others, tone => {
      const whim = 20 * shareFor(seed, `companion ${mood} ${JSON.stringify(tone.colour)}`)
      return Math.abs(hueApart(tone, first) - plan.hueApart) + whim
    })
    return { first: first.colour, second: second.colour, pale: pale.colour }
  }
}

function tonesOf(show: Show, seed: number): Tone[] {
  const swatches = Object.keys(show.swatches)
    .sort()
    .map(swatch => toneOf({ swatch }, show.swatches[swatch]!.hex))
  const hued = swatches.filter(tone => tone.chroma >= COLOURFUL)
  return swatches.length >= ENOUGH && hued.length >= 2 ? swatches : madeTones(seed)
}

/** A base of the seed's hue, what each mood asks for beside it, and a warm white. */
function madeTones(seed: number): Tone[] {
  const base = 360 * shareFor(seed, 'hue')
  const apart = [0, 180, ...Object.values(moodPlans).map(plan => plan.hueApart)]
  const hexes = [...new Set(apart)].map(degrees => hexOf(0.72, 0.17, base + degrees))
  return [...hexes, hexOf(0.93, 0.04, 85)].map(hex => toneOf({ hex }, hex))
}

function toneOf(colour: Colour, hex: string): Tone {
  const [lightness, a, b] = oklabOf(linearOfHex(hex))
  return { colour, hue: (Math.atan2(b, a) * 180) / Math.PI, chroma: Math.hypot(a, b), lightness }
}

const hueApart = (a: Tone, b: Tone): number => {
  const around = Math.abs(a.hue - b.hue) % 360
  return around > 180 ? 360 - around : around
}

const nearest = (tones: readonly Tone[], distance: (tone: Tone) => number): Tone =>
  tones.reduce((best, tone) => (distance(tone) < distance(best) ? tone : best))

/** #rrggbb of an OKLab lightness, chroma and hue (degrees), with as much of the chroma as sRGB can show. */
function hexOf(lightness: number, chroma: number, degrees: number): string {
  const hue = (degrees * Math.PI) / 180
  for (let c = chroma; ; c -= 0.005) {
    const light = linearOfOklab([lightness, c * Math.cos(hue), c * Math.sin(hue)])
    if (c > 0 && light.some(value => value < 0 || value > 1)) continue
    const bytes = light.map(value => Math.round(255 * encodeSrgb(Math.min(1, Math.max(0, value)))))
    return `#${bytes.map(byte => byte.toString(16).padStart(2, '0')).join('')}`
  }
}
