// What keys do to the chosen cues: nudge, stretch, level, split, delete, copy, paste, and a new cue at the playhead.

import type { Level } from '@glowchart/shared/light/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { type ChosenCue, choose, clearChoice, useChoice } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { edit, editTogether, type Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { say } from '../document/session.ts'
import { type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { songPosition } from '../transport/moves.ts'
import { reveal } from './reveal.ts'
import { gridNow, gridStep, onGrid } from './snap.ts'
import { chosenPlaces } from './walk.ts'
import { homeOf, newCue, trackOf } from './written.ts'

/** The chosen cues with the song they are in; null, and said so, when none is. */
function held(): { viewed: ViewedSong; refs: readonly ChosenCue[]; cueOf: (ref: ChosenCue) => Cue } | null {
  const viewed = viewedSongNow()
  const refs = useChoice.getState().cues
  if (!viewed || refs.length === 0) {
    say('No cue is chosen.')
    return null
  }
  return { viewed, refs, cueOf: ref => viewed.song.sections[ref.section]!.cues[ref.cue]! }
}

export function deleteChosen(): void {
  const now = held()
  if (!now) return
  void edit('deleteCues', { song: now.viewed.id, cues: [...now.refs] })
  clearChoice()
}

/** Moves the choice by one step of the grid. */
export function nudge(by: 1 | -1): void {
  const now = held()
  const first = now && chosenPlaces(now.viewed)[0]
  if (!now || !first) return
  const { meters } = now.viewed.timeline
  const step = gridStep(meters, by === 1 ? first.at : first.at - 1, gridNow())
  void edit('moveCues', { song: now.viewed.id, cues: [...now.refs], by: ticks(by * step) })
}

/** Moves the choice to the next part down (+1) or up (−1). */
export function nudgePart(by: 1 | -1): void {
  const now = held()
  const order = useDocument.getState().show?.partOrder ?? []
  const first = now?.refs[0]
  if (!now || !first) return
  const part = order[order.indexOf(now.viewed.song.tracks[now.cueOf(first).track]!.part) + by]
  if (part === undefined) return
  const { track, edits } = trackOf(now.viewed, part)
  const args = { song: now.viewed.id, cues: [...now.refs], track }
  void editTogether(null, [...edits, ['moveCues', args]])
}

/** Puts the ends of the chosen cues one step of the grid later (+1) or earlier (−1). */
export function stretch(by: 1 | -1): void {
  const now = held()
  if (!now) return
  const { meters, sections } = now.viewed.timeline
  const told = now.refs.flatMap((ref): Told[] => {
    const { at, length } = now.cueOf(ref)
    const end = sections.find(s => s.id === ref.section)!.start + at + length
    const step = gridStep(meters, by === 1 ? end : end - 1, gridNow())
    const longer = length + by * step
    if (longer < 1) return []
    return [['resizeCue', { song: now.viewed.id, ...ref, at, length: ticks(longer) }]]
  })
  if (told.length > 0) void editTogether(told.length > 1 ? `Length of ${told.length} cues` : null, told)
}

const LEVEL_STEP = 0.05

/** Brighter or darker by 5 %. */
export function nudgeLevel(by: 1 | -1): void {
  const now = held()
  if (!now) return
  const later = (level: number) => Math.round(Math.min(1, Math.max(0, level + by * LEVEL_STEP)) * 100) / 100
  const told = now.refs.map((ref): Told => {
    const { light } = now.cueOf(ref)
    const level: Level = 'look' in light ? 1 : light.level
    const next = typeof level === 'number' ? later(level) : level.map(p => ({ ...p, level: later(p.level) }))
    return ['setCueLevel', { song: now.viewed.id, cues: [ref], level: next }]
  })
  void editTogether(told.length > 1 ? `Level of ${told.length} cues` : null, told)
}

/** Cuts the chosen cues where the playhead is. */
export function splitAtPlayhead(): void {
  const now = held()
  if (!now) return
  const here = Math.round(songPosition())
  const cut = new Set<string>()
  const told = chosenPlaces(now.viewed).flatMap((place): Told[] => {
    const offset = here - place.at
    if (offset <= 0 || offset >= place.length || cut.has(place.id)) return []
    cut.add(place.id)
    const args = { song: now.viewed.id, section: place.sourceSection, cue: place.id }
    return [['splitCue', { ...args, offset: ticks(offset), right: newId('cue') }]]
  })
  if (told.length === 0) say('The playhead is not inside a chosen cue.')
  else void editTogether(told.length > 1 ? `Split ${told.length} cues` : null, told)
}

/** A new cue of one bar at the playhead, on the part of the chosen cue or the highest one. */
export function addAtPlayhead(): void {
  const viewed = viewedSongNow()
  const show = useDocument.getState().show
  if (!viewed || !show) return
  const first = chosenPlaces(viewed)[0]
  const part = first ? viewed.song.tracks[first.cue.track]!.part : show.partOrder[0]
  if (part === undefined) return
  const { meters } = viewed.timeline
  const at = onGrid(meters, songPosition(), gridNow())
  const bar = gridStep(meters, at, 'bar')
  const { edits, ref } = newCue(show, viewed, part, at, bar)
  void editTogether(null, edits)
  choose([ref])
  reveal(at)
}

interface Copied {
  readonly cue: Cue
  readonly part: string
  /** Ticks after the first of the cues copied with it. */
  readonly later: number
}

let clipboard: readonly Copied[] = []

export function copyChosen(): void {
  const now = held()
  if (!now) return
  const places = chosenPlaces(now.viewed)
  const first = places[0]?.at ?? 0
  const taken = new Map<string, Copied>()
  for (const place of places) {
    if (taken.has(place.id)) continue
    const cue = now.cueOf({ section: place.sourceSection, cue: place.id })
    taken.set(place.id, { cue, part: now.viewed.song.tracks[cue.track]!.part, later: place.at - first })
  }
  clipboard = [...taken.values()]
  say(clipboard.length === 1 ? 'A cue copied.' : `${clipboard.length} cues copied.`)
}

/** Puts what was copied at the beat of the playhead, on the parts it came from. */
export function pasteAtPlayhead(): void {
  const viewed = viewedSongNow()
  if (!viewed || clipboard.length === 0) {
    say('Nothing is copied.')
    return
  }
  const { meters } = viewed.timeline
  const at = onGrid(meters, songPosition(), gridNow())
  const tracks: Told[] = []
  const made: ChosenCue[] = []
  const told = clipboard.map(({ cue, part, later }): Told => {
    const kept = viewed.song.tracks[cue.track]?.part === part
    const { track, edits } = kept ? { track: cue.track, edits: [] } : trackOf(viewed, part)
    tracks.push(...edits)
    const { section, start } = homeOf(viewed, at + later, track)
    const copy = newId('cue')
    made.push({ section, cue: copy })
    const value = { ...cue, track, at: ticks(at + later - start) }
    return ['addCues', { song: viewed.id, section, cues: { [copy]: value } }]
  })
  void editTogether(told.length === 1 ? 'Paste a cue' : `Paste ${told.length} cues`, [...tracks, ...told])
  choose(made)
  reveal(at)
}
