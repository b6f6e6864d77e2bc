// From documents to what the renderer reads: every link followed, every cue placed, once an edit.

import { CodedError } from '../errors.ts'
import { directions, type Light } from '../light/schema.ts'
import { type PowerLimit, powerLimit } from '../power/limit.ts'
import { powerPlan } from '../power/plan.ts'
import type { Rig } from '../rig/schema.ts'
import { stageOf } from '../rig/stage.ts'
import type { Kit, Show } from '../show/schema.ts'
import type { Song } from '../show/song.ts'
import { secondsAt } from '../time/tempo.ts'
import { type Timeline, timelineOf } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'
import { colourTables } from './colours.ts'
import type { CompiledCue, CompiledPart, CompiledSong, CompiledTrack } from './compiled.ts'
import { levelPlan } from './level-plan.ts'
import { meanOf } from './motion/mean.ts'
import { type Overlap, overlapsOf } from './overlap.ts'
import { layoutPart } from './parts.ts'
import { type Piece, piecesOf } from './pieces.ts'

/**
 * Compiles a song for a kit. The documents are valid (see `show/validate`).
 * @throws CodedError `kit.unknown`, `song.unknown`, or `document.…` naming a swatch or a look that is missing.
 */
export function compileSong(rig: Rig, show: Show, kitId: string, songId: string): CompiledSong {
  const kit = kitFor(show, kitId)
  const song = show.songs[songId]
  if (!song) throw new CodedError('song.unknown', `there is no song "${songId}"`, `songs.${songId}`)
  const timeline = timelineOf(song)
  return compile(rig, show, kit, song, timeline, piecesOf(song, timeline))
}

/**
 * Compiles a look that stands between songs: from tick 0 on without end, at 120 BPM.
 * @throws CodedError `kit.unknown`, or `document.…` naming the look or a swatch that is missing.
 */
export function compileLook(rig: Rig, show: Show, kitId: string, lookId: string): CompiledSong {
  const kit = kitFor(show, kitId)
  const look = lookOf(show, lookId)
  const parts = Object.keys(look.parts)
  const song: Song = {
    title: look.name,
    bpm: 120,
    meter: { beats: 4, unit: 4 },
    sections: {},
    sectionOrder: [],
    tracks: Object.fromEntries(parts.map(part => [part, { part, merge: 'cover', muted: false }])),
    trackOrder: parts,
  }
  const forever = Number.POSITIVE_INFINITY as Ticks
  const pieces = parts.map((part): [string, Piece[]] => [
    part,
    [
      {
        id: part,
        cue: { track: part, at: 0 as Ticks, length: forever, origin: 0 as Ticks, light: { look: lookId } },
        whole: forever,
        swatches: {},
        trim: 1,
      },
    ],
  ])
  return compile(rig, show, kit, song, timelineOf(song), new Map(pieces))
}

function kitFor(show: Show, kitId: string): Kit {
  const kit: Kit | undefined = show.kits[kitId]
  if (!kit) throw new CodedError('kit.unknown', `there is no kit "${kitId}"`, `kits.${kitId}`)
  return kit
}

/** The armed power limits of a kit's boxes. */
function powerOf(rig: Rig, kit: Kit): PowerLimit | null {
  if (Object.values(kit.boxes).every(box => box.powerLimit === undefined)) return null
  const plan = levelPlan(rig, kit)
  return powerLimit(plan, powerPlan(rig, kit, plan))
}

function lookOf(show: Show, id: string): Show['looks'][string] {
  const look = show.looks[id]
  if (!look) throw new CodedError('document.look', `there is no look "${id}"`, `looks.${id}`)
  return look
}

function compile(
  rig: Rig,
  show: Show,
  kit: Kit,
  song: Song,
  timeline: Timeline,
  pieces: ReadonlyMap<string, readonly Piece[]>,
): CompiledSong {
  const stage = stageOf(rig, kit)
  const parts: CompiledPart[] = Object.entries(stage.parts).map(([id, part]) => layoutPart(id, part, stage))
  const index = new Map(parts.map((part, i) => [part.id, i]))
  const tableOf = colourTables(show)
  const tracks: CompiledTrack[] = []
  for (const trackId of song.trackOrder) {
    const track = song.tracks[trackId]
    const part = track && index.get(track.part)
    if (!track || part === undefined || track.muted) continue
    const lit = (pieces.get(trackId) ?? []).flatMap(piece => {
      const light =
        'look' in piece.cue.light ? lookOf(show, piece.cue.light.look).parts[track.part] : piece.cue.light
      return light ? [{ piece, light }] : []
    })
    const overlaps = overlapsOf(lit.map(({ piece }) => piece.cue))
    const cues = lit.map(({ piece, light }, i) =>
      compileCue(piece, light, overlaps[i]!, tableOf(light.colours, piece.swatches), timeline),
    )
    let reach = Number.NEGATIVE_INFINITY
    tracks.push({
      id: trackId,
      part,
      merge: track.merge,
      cues,
      start: Float64Array.from(cues, cue => cue.start),
      reach: Float64Array.from(cues, cue => {
        reach = Math.max(reach, cue.end)
        return reach
      }),
    })
  }
  return { stage, timeline, parts, tracks, power: powerOf(rig, kit) }
}

/** One literal, so that all cues have one hidden class and reading a fraction from them makes no new number. */
function compileCue(
  { cue, whole, trim }: Piece,
  { level, colours, motion }: Light,
  overlap: Overlap,
  gradient: Float32Array,
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
    pointAt: Float64Array.from(points, point => cue.at + point.at),
    pointLevel: Float64Array.from(points, point => point.level),
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
    mean: meanOf(motion),
  }
}
