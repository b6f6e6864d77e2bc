// From documents to what the renderer reads: every link followed, every cue placed, once an edit.

import { CodedError } from '../errors.ts'
import { type PowerLimit, powerLimit } from '../power/limit.ts'
import { powerPlan } from '../power/plan.ts'
import type { Rig } from '../rig/schema.ts'
import { type Stage, stageOf } from '../rig/stage.ts'
import { sameValue } from '../show/diff.ts'
import type { Kit, Show } from '../show/schema.ts'
import type { Song } from '../show/song.ts'
import { type Timeline, timelineOf } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'
import { type CueTables, cueTables, lookOf, trackCompiler } from './compile-track.ts'
import type { CompiledPart, CompiledSong, CompiledTrack } from './compiled.ts'
import { levelPlan } from './level-plan.ts'
import { layoutPart } from './parts.ts'
import { piecesOf, placesByTrack } from './pieces.ts'
import { type VenueLimits, venueLimits } from './venue.ts'

type CompileSong = (rig: Rig, show: Show, kitId: string, songId: string) => CompiledSong

/**
 * Compiles a song for a kit. The documents are valid (see `show/validate`).
 * @throws CodedError `kit.unknown`, `song.unknown`, or `document.…` naming a swatch or a look that is missing.
 */
export const compileSong: CompileSong = (rig, show, kitId, songId) => songCompiler()(rig, show, kitId, songId)

/**
 * Makes a `compileSong` that remembers what it compiled last. Given documents that share with those what an edit left
 * alone, it compiles only the tracks that were touched, and gives the others, the timeline and what stands tonight as
 * they were: the same objects.
 */
export function songCompiler(): CompileSong {
  let last: Compiled | null = null
  return (rig, show, kitId, songId) => {
    const kit = kitFor(show, kitId)
    const song = show.songs[songId]
    if (!song) throw new CodedError('song.unknown', `there is no song "${songId}"`, `songs.${songId}`)
    const before = last
    const laidOut = timelineOf(song)
    const timeline = before && sameValue(before.timeline, laidOut) ? before.timeline : laidOut
    const standing = before?.rig === rig && before.kit === kit ? before.standing : standingOf(rig, kit)
    const tables = before?.show.swatches === show.swatches ? before.tables : cueTables(show)
    const sources: Sources = { show, song, timeline, standing, tables }
    const touched = before ? touchedTracks(before, sources) : null
    const places = placesByTrack(song, timeline, touched)
    const compile = trackCompiler(show, song, timeline, standing.parts, tables)
    const tracks = new Map<string, CompiledTrack | null>()
    for (const id of song.trackOrder) {
      const known = touched?.has(id) ? undefined : before?.tracks.get(id)
      tracks.set(
        id,
        touched && known !== undefined ? known : compile(id, piecesOf(song, places.get(id) ?? [])),
      )
    }
    last = { ...sources, rig, kit, tracks }
    return { ...standing, timeline, tracks: song.trackOrder.flatMap(id => tracks.get(id) ?? []) }
  }
}

/** What a song's tracks are compiled from. */
interface Sources {
  readonly show: Show
  readonly song: Song
  readonly timeline: Timeline
  readonly standing: Standing
  readonly tables: CueTables
}

interface Compiled extends Sources {
  readonly rig: Rig
  readonly kit: Kit
  readonly tracks: ReadonlyMap<string, CompiledTrack | null>
}

/** The tracks of which something is another object than before, or stands elsewhere; null where that may be any. */
function touchedTracks(a: Sources, b: Sources): ReadonlySet<string> | null {
  if (a.timeline !== b.timeline || a.standing !== b.standing) return null
  if (a.show.looks !== b.show.looks || a.show.swatches !== b.show.swatches) return null
  const touched = new Set(b.song.trackOrder.filter(id => a.song.tracks[id] !== b.song.tracks[id]))
  for (const [id, section] of Object.entries(b.song.sections)) {
    const before = a.song.sections[id]
    if (section === before) continue
    if (section.sameAs !== before?.sameAs) return null
    for (const cue of Object.keys({ ...before?.cues, ...section.cues })) {
      const [was, is] = [before?.cues[cue], section.cues[cue]]
      if (was === is) continue
      if (was) touched.add(was.track)
      if (is) touched.add(is.track)
    }
  }
  return touched
}

/**
 * Compiles a look that stands between songs: from tick 0 on without end, at 120 BPM. Where parts share a light, the one
 * lower in the show's order lies over the others, as it does where the look is placed on a chart.
 * @throws CodedError `kit.unknown`, or `document.…` naming the look or a swatch that is missing.
 */
export function compileLook(rig: Rig, show: Show, kitId: string, lookId: string): CompiledSong {
  const standing = standingOf(rig, kitFor(show, kitId))
  const look = lookOf(show, lookId)
  const parts = show.partOrder.filter(part => Object.hasOwn(look.parts, part))
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
  const start = 0 as Ticks
  const timeline = timelineOf(song)
  const compile = trackCompiler(show, song, timeline, standing.parts, cueTables(show))
  const tracks = parts.flatMap(part => {
    const cue = { track: part, at: start, length: forever, origin: start, light: { look: lookId } }
    return compile(part, [{ id: part, cue, whole: forever, swatches: {}, trim: 1 }]) ?? []
  })
  return { ...standing, timeline, tracks }
}

function kitFor(show: Show, kitId: string): Kit {
  const kit: Kit | undefined = show.kits[kitId]
  if (!kit) throw new CodedError('kit.unknown', `there is no kit "${kitId}"`, `kits.${kitId}`)
  return kit
}

/** What stands tonight, laid out for rendering. */
interface Standing {
  readonly stage: Stage
  readonly parts: readonly CompiledPart[]
  readonly power: PowerLimit | null
  readonly venue: VenueLimits
}

function standingOf(rig: Rig, kit: Kit): Standing {
  const stage = stageOf(rig, kit)
  const parts = Object.entries(stage.parts).map(([id, part]) => layoutPart(id, part, stage))
  return { stage, parts, power: powerOf(rig, kit), venue: venueLimits(kit) }
}

/** The armed power limits of a kit's boxes. */
function powerOf(rig: Rig, kit: Kit): PowerLimit | null {
  if (Object.values(kit.boxes).every(box => box.powerLimit === undefined)) return null
  const plan = levelPlan(rig, kit)
  return powerLimit(plan, powerPlan(rig, kit, plan))
}
