// New lights for cues, as edits: those that come to the same light go together.

import { lightnessOf, luminanceOf } from '../../light/lightness.ts'
import type { Light } from '../../light/schema.ts'
import { namesOf } from '../../show/edits/place.ts'
import type { Told } from '../../show/edits.ts'
import type { Show } from '../../show/schema.ts'
import type { CueRef } from '../advice.ts'

/** A cue and the light it is to have. */
export interface Relit {
  readonly ref: CueRef
  readonly light: Light
}

/** Cues of a look are freed from it: it stays as it is elsewhere. */
export function relight(song: string, relit: readonly Relit[]): Told[] {
  const same = new Map<string, { light: Light; cues: CueRef[] }>()
  for (const { ref, light } of relit) {
    const key = JSON.stringify(light)
    const group = same.get(key)
    if (group) group.cues.push(ref)
    else same.set(key, { light, cues: [ref] })
  }
  return [...same.values()].map(({ light, cues }) => ['setCueLight', { song, cues, light }] as const)
}

/** “Wingbeat”, “a cue of Tubes” or “3 cues”; and whether they leave a look. */
export function cuesText(show: Show, song: string, refs: readonly CueRef[]): { who: string; freed: string } {
  const of = show.songs[song]!
  const isLinked = refs.some(ref => 'look' in of.sections[ref.section]!.cues[ref.cue]!.light)
  return { who: namesOf(show, of, refs), freed: isLinked ? ', free from its look' : '' }
}

/** The light at a share (0…1) of its linear light: all colours alike, so that it keeps its hue. */
export function dimmed(light: Light, share: number): Light {
  const dim = (level: number): number => rounded(lightnessOf(luminanceOf(level) * share))
  const { level } = light
  return {
    ...light,
    level: typeof level === 'number' ? dim(level) : level.map(p => ({ ...p, level: dim(p.level) })),
  }
}

/** Levels in the document need no more places than this. */
const rounded = (level: number): number => Math.floor(level * 10_000) / 10_000
