// What keys do to the chosen cues: nudge, lengthen, stretch, level, split, join, delete, and a new cue at the playhead.

import type { Level } from '@glowchart/shared/light/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import { type CuePlace, cuePlaces, sectionAt } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { type ChosenCue, choose, clearChoice, useChoice } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { edit, editTogether, type Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { useSession } from '../document/session.ts'
import { type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { songPosition } from '../transport/moves.ts'
import { tell } from './foot.ts'
import { reveal } from './reveal.ts'
import { gridNow, gridStep, onGrid } from './snap.ts'
import { nearestPlaces, outerEdges, stretchEdits } from './stretch.ts'
import { chosenPlaces } from './walk.ts'
import { newCue, trackOf } from './written.ts'

/** The chosen cues with the song they are in; null, and said so, when none is. */
function held(): { viewed: ViewedSong; refs: readonly ChosenCue[]; cueOf: (ref: ChosenCue) => Cue } | null {
  const viewed = viewedSongNow()
  const refs = useChoice.getState().cues
  if (!viewed || refs.length === 0) {
    tell('No cue is chosen.')
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
  if (by === -1 && first.at === 0) return tell('It stands at the song’s start.')
  const step = gridStep(meters, by === 1 ? first.at : first.at - 1, gridNow())
  const to = Math.max(0, first.at + by * step)
  void edit('moveCues', { song: now.viewed.id, cues: [...now.refs], by: ticks(to - first.at) })
}

/** Moves the choice to the next cue track down (+1) or up (−1); a part without one gets one. */
export function nudgePart(by: 1 | -1): void {
  const now = held()
  const order = useDocument.getState().show?.partOrder ?? []
  const first = now?.refs[0]
  if (!now || !first) return
  const { trackOrder, tracks } = now.viewed.song
  const lanes = order.flatMap(part => {
    const own = trackOrder.filter(track => tracks[track]!.part === part)
    return (own.length > 0 ? own : [null]).map(track => ({ part, track }))
  })
  const lane = lanes[lanes.findIndex(({ track }) => track === now.cueOf(first).track) + by]
  if (lane === undefined) return
  const { track, edits } =
    lane.track === null ? trackOf(now.viewed, lane.part) : { track: lane.track, edits: [] }
  const args = { song: now.viewed.id, cues: [...now.refs], track }
  void editTogether(null, [...edits, ['moveCues', args]])
}

/** Puts the ends of the chosen cues one step of the grid later (+1) or earlier (−1). */
export function lengthen(by: 1 | -1): void {
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

/** Puts the end of the choice one step later (+1) or earlier (−1), and all that is in it in proportion. */
export function stretch(by: 1 | -1): void {
  const now = held()
  const all = now ? chosenPlaces(now.viewed) : []
  const first = all[0]
  if (!now || !first) return
  const places = nearestPlaces(all, first.at)
  const { start, end } = outerEdges(places)
  const step = gridStep(now.viewed.timeline.meters, by === 1 ? end : end - 1, gridNow())
  const to = end - start + by * step
  if (to < places.length) return
  const edits = stretchEdits(now.viewed, places, start, end - start, to)
  void editTogether(places.length > 1 ? `Stretch ${places.length} cues` : null, edits)
}

/** Makes one cue of chosen cues that touch on a track; of one and the next, when only one is chosen. */
export function joinChosen(): void {
  const now = held()
  if (!now) return
  const { song } = now.viewed
  const rows = new Map<string, { ref: ChosenCue; cue: Cue }[]>()
  for (const ref of now.refs) {
    const cue = now.cueOf(ref)
    const key = `${ref.section}/${cue.track}`
    rows.set(key, [...(rows.get(key) ?? []), { ref, cue }])
  }
  const told: Told[] = []
  const kept: ChosenCue[] = []
  for (const row of rows.values()) {
    row.sort((a, b) => a.cue.at - b.cue.at)
    const [first] = row
    if (row.length === 1 && rows.size === 1) {
      const { section } = first!.ref
      const end = first!.cue.at + first!.cue.length
      const next = Object.entries(song.sections[section]!.cues).find(
        ([, cue]) => cue.track === first!.cue.track && cue.at === end,
      )
      if (next) row.push({ ref: { section, cue: next[0] }, cue: next[1] })
    }
    let left = row[0]!
    let end = left.cue.at + left.cue.length
    kept.push(left.ref)
    for (const right of row.slice(1)) {
      if (right.cue.at === end)
        told.push(['joinCues', { song: now.viewed.id, left: left.ref, right: right.ref }])
      else {
        left = right
        kept.push(left.ref)
      }
      end = right.cue.at + right.cue.length
    }
  }
  if (told.length === 0) {
    tell('Nothing to join: cues can be joined that touch on one track of a section.')
    return
  }
  void editTogether(told.length > 1 ? `Join ${told.length + 1} cues` : null, told)
  if (!useSession.getState().problem) choose(kept)
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
    // What would sound before the song is cut off a place, and not off the cue.
    const early = place.cue.at - now.cueOf({ section: place.sourceSection, cue: place.id }).at
    return [['splitCue', { ...args, offset: ticks(offset + early), right: newId('cue') }]]
  })
  if (told.length === 0) tell('The playhead is not inside a chosen cue.')
  else void editTogether(told.length > 1 ? `Split ${told.length} cues` : null, told)
}

/** A new cue at the playhead, on the cue track of the chosen cue or the highest part: a bar, or till what comes next there. */
export function addAtPlayhead(long: boolean): void {
  const viewed = viewedSongNow()
  const show = useDocument.getState().show
  if (!viewed || !show) return
  const first = chosenPlaces(viewed)[0]
  const part = first ? viewed.song.tracks[first.cue.track]!.part : show.partOrder[0]
  if (part === undefined) return
  const { meters } = viewed.timeline
  const at = onGrid(meters, songPosition(), gridNow())
  const length = long ? roomAfter(viewed, part, at) : gridStep(meters, at, 'bar')
  const { edits, ref } = newCue(show, viewed, part, at, length, first?.cue.track)
  void editTogether(null, edits)
  choose([ref])
  reveal(at)
}

/** From a place to the next cue on the part, or the end of the section; ticks. A bar, after the song's end. */
function roomAfter({ song, timeline }: ViewedSong, part: string, at: number): number {
  const end = sectionAt(timeline, ticks(at))?.end ?? at + gridStep(timeline.meters, at, 'bar')
  const isInTheWay = (place: CuePlace) => song.tracks[place.cue.track]!.part === part && place.at > at
  const next = cuePlaces(song, timeline).find(isInTheWay)?.at ?? end
  return Math.min(next, end) - at
}
