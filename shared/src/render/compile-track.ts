// One cue track from its pieces: looks and swatches followed, overlaps settled, everything as the renderer reads it.

import { CodedError } from '../errors.ts'
import { directions, type Light } from '../light/schema.ts'
import type { Show } from '../show/schema.ts'
import type { Song } from '../show/song.ts'
import { secondsAt } from '../time/tempo.ts'
import type { Timeline } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'
import { colourTables } from './colours.ts'
import type { CompiledCue, CompiledPart, CompiledTrack } from './compiled.ts'
import { meanTables } from './motion/mean.ts'
import { type Overlap, overlapsOf } from './overlap.ts'
import type { Piece } from './pieces.ts'

/** Tables that cues share, kept from one compiling to the next. */
export interface CueTables {
  readonly colours: ReturnType<typeof colourTables>
  readonly means: ReturnType<typeof meanTables>
}

/** The tables of a show's cues, good for as long as its swatches are the same. */
export const cueTables = (show: Show): CueTables => ({ colours: colourTables(show), means: meanTables() })

/**
 * Makes what compiles the tracks of a song; it gives null for one that is muted, or whose part does not stand tonight.
 * @throws CodedError `document.…` naming a swatch or a look that is missing
 */
export function trackCompiler(
  show: Show,
  song: Song,
  timeline: Timeline,
  parts: readonly CompiledPart[],
  tables: CueTables,
): (id: string, pieces: readonly Piece[]) => CompiledTrack | null {
  const index = new Map(parts.map((part, i) => [part.id, i]))
  return (id, pieces) => {
    const track = song.tracks[id]
    const part = track && index.get(track.part)
    if (!track || part === undefined || track.muted) return null
    const lit = pieces.flatMap(piece => {
      const light =
        'look' in piece.cue.light ? lookOf(show, piece.cue.light.look).parts[track.part] : piece.cue.light
      return light ? [{ piece, light }] : []
    })
    const overlaps = overlapsOf(lit.map(({ piece }) => piece.cue))
    const cues = lit.map(({ piece, light }, i) =>
      compileCue(
        piece,
        light,
        overlaps[i]!,
        tables.colours(light.colours, piece.swatches),
        tables.means(light.motion),
        timeline,
      ),
    )
    let reach = Number.NEGATIVE_INFINITY
    return {
      id,
      part,
      merge: track.merge,
      cues,
      start: Float64Array.from(cues, cue => cue.start),
      reach: Float64Array.from(cues, cue => {
        reach = Math.max(reach, cue.end)
        return reach
      }),
    }
  }
}

/** @throws CodedError `document.look` */
export function lookOf(show: Show, id: string): Show['looks'][string] {
  const look = show.looks[id]
  if (!look) throw new CodedError('document.look', `there is no look "${id}"`, `looks.${id}`)
  return look
}

/** One for all cues with a constant level: a song is cloned to another thread, array by array. */
const NO_POINTS = new Float64Array(0)

/** One literal, so that all cues have one hidden class and reading a fraction from them makes no new number. */
function compileCue(
  { cue, whole, trim }: Piece,
  { level, colours, motion }: Light,
  overlap: Overlap,
  gradient: Float32Array,
  mean: Float64Array,
  timeline: Timeline,
): CompiledCue {
  const points = typeof level === 'number' ? [] : [...level].sort((a, b) => a.at - b.at)
  const origin = cue.at + cue.origin
  return {
    start: cue.at,
    end: cue.at + cue.length,
    fadeIn: overlap.fadeIn,
    fadeOut: overlap.fadeOut,
    overlap: overlap.overlap,
    crossfadeEnd: overlap.crossfadeEnd,
    crossfadeCurve: overlap.crossfadeCurve,
    level: typeof level === 'number' ? level * trim : trim,
    pointAt: points.length === 0 ? NO_POINTS : Float64Array.from(points, point => cue.at + point.at),
    pointLevel: points.length === 0 ? NO_POINTS : Float64Array.from(points, point => point.level),
    along: colours.along,
    gradient,
    gradientLength: (colours.along === 'none' ? undefined : colours.length) ?? whole,
    kind: motion.kind,
    origin,
    originSeconds: secondsAt(timeline.tempo, origin as Ticks),
    period: 'ticks' in motion.rate ? motion.rate.ticks : 0,
    hz: 'hz' in motion.rate ? motion.rate.hz : 0,
    spread: motion.spread,
    direction: directions.indexOf(motion.direction) as CompiledCue['direction'],
    duty: motion.duty,
    shape: motion.shape,
    floor: motion.floor,
    byCell: motion.by === 'cell',
    seed: motion.seed,
    mean,
  }
}
