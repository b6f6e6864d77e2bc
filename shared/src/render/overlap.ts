// Overlaps on one track: who fades over whom, and which fades the crossfade takes the place of.

import type { Cue, Fade } from '../show/song.ts'
import type { CompiledCue, CompiledFade } from './compiled.ts'

export type Overlap = Pick<CompiledCue, 'overlap' | 'crossfadeEnd' | 'crossfadeCurve' | 'fadeIn' | 'fadeOut'>

const NONE: CompiledFade = { length: 0, cut: 0, curve: 'even' }

/**
 * What each cue of a track does with the ones before it that still run; `cues` in order of start.
 *
 * A cue that outlasts them crossfades in until the last of them ends. Its fade in, and that last one's fade out, are
 * the crossfade where they lie within the overlap; a longer one stays as it is, so that nothing jumps. A cue that ends
 * before them lies over them, and comes and goes by its own fades.
 */
export function overlapsOf(cues: readonly Cue[]): Overlap[] {
  let reach = Number.NEGATIVE_INFINITY
  /** The latest end of all cues before each. */
  const reaches = cues.map(({ at, length }) => {
    const before = reach
    reach = Math.max(reach, at + length)
    return before
  })
  return cues.map((cue, i) => {
    const reach = reaches[i]!
    const overlap = reach <= cue.at ? 'alone' : cue.at + cue.length > reach ? 'crossfade' : 'over'
    const replaced =
      overlap === 'crossfade' && cue.fadeIn && cue.fadeIn.length - cue.fadeIn.cut <= reach - cue.at
    return {
      overlap,
      crossfadeEnd: overlap === 'crossfade' ? reach : cue.at,
      crossfadeCurve: replaced ? cue.fadeIn!.curve : 'even',
      fadeIn: replaced ? NONE : compiled(cue.fadeIn),
      fadeOut: isHandedOver(cues, reaches, i) ? NONE : compiled(cue.fadeOut),
    }
  })
}

/** True when the fade out of cue `i` lies within the crossfade to a later one, which ends where the cue does. */
function isHandedOver(cues: readonly Cue[], reaches: readonly number[], i: number): boolean {
  const { at, length, fadeOut } = cues[i]!
  if (!fadeOut) return false
  const end = at + length
  const begins = end + fadeOut.cut - fadeOut.length
  for (let k = i + 1; k < cues.length && cues[k]!.at < end; k++) {
    const { at, length } = cues[k]!
    if (at <= begins && at + length > end && reaches[k] === end) return true
  }
  return false
}

const compiled = (fade: Fade | undefined): CompiledFade =>
  fade ? { length: fade.length, cut: fade.cut, curve: fade.curve } : NONE
