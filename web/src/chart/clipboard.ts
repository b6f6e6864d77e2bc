// Copying and pasting cues: to another place, section, part or song. They go by their parts' names, and what does not
// fit is said.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { type ChosenCue, choose } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { editTogether, type Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { useSession } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { songPosition } from '../transport/moves.ts'
import { tell } from './foot.ts'
import { reveal } from './reveal.ts'
import { gridNow, onGrid, placeWords } from './snap.ts'
import { nearestPlaces } from './stretch.ts'
import { chosenPlaces } from './walk.ts'
import { homeOf, trackOf } from './written.ts'

interface Copied {
  readonly cue: Cue
  /** Its light, should the look that it has it from be gone when it is pasted. */
  readonly light: Light | undefined
  readonly part: string
  readonly partName: string
  /** Ticks after the first of the cues copied with it. */
  readonly later: number
}

let clipboard: readonly Copied[] = []
let copiedFrom = ''

const counted = (n: number): string => (n === 1 ? 'A cue' : `${n} cues`)

/** The chosen cues into the clipboard of this page. False when none is chosen. */
export function copyChosen(): boolean {
  const viewed = viewedSongNow()
  const show = useDocument.getState().show
  const all = viewed ? chosenPlaces(viewed) : []
  const first = all[0]
  if (!viewed || !show || !first) {
    tell('No cue is chosen.')
    return false
  }
  const { tracks, sections } = viewed.song
  clipboard = nearestPlaces(all, first.at).map(place => {
    const cue = sections[place.sourceSection]!.cues[place.id]!
    const { part } = tracks[cue.track]!
    const light = 'look' in cue.light ? show.looks[cue.light.look]?.parts[part] : cue.light
    return { cue, light, part, partName: show.parts[part]?.name ?? part, later: place.at - first.at }
  })
  copiedFrom = viewed.song.title
  tell(`${counted(clipboard.length)} copied.`)
  return true
}

/** Puts what was copied on the grid at the playhead, on the parts it came from. */
export const pasteAtPlayhead = (): void => paste(part => part)

/** The same, its highest part on the part of the chosen cue and the others as far below as they were. */
export function pasteOnChosenPart(): void {
  const viewed = viewedSongNow()
  const order = useDocument.getState().show?.partOrder ?? []
  const first = viewed && chosenPlaces(viewed)[0]
  if (!first) {
    tell('Choose a cue of the part to paste on.')
    return
  }
  const onto = order.indexOf(viewed.song.tracks[first.cue.track]!.part)
  const highest = Math.min(...clipboard.map(({ part }) => order.indexOf(part)).filter(i => i >= 0))
  paste(part => order[order.indexOf(part) - highest + onto])
}

/** @param partFor the part that a part's cues go to; undefined: there is none */
function paste(partFor: (part: string) => string | undefined): void {
  const viewed = viewedSongNow()
  const show = useDocument.getState().show
  if (!viewed || !show || clipboard.length === 0) {
    tell('Nothing is copied.')
    return
  }
  const { meters, length } = viewed.timeline
  const at = onGrid(meters, songPosition(), gridNow())
  const without = new Set<string>()
  let past = 0
  const tracks = new Map<string, { track: string; edits: readonly Told[] }>()
  const made: ChosenCue[] = []
  const told: Told[] = []
  for (const copied of clipboard) {
    const part = partFor(copied.part)
    if (part === undefined || !show.parts[part]) {
      without.add(copied.partName)
      continue
    }
    if (at + copied.later >= length) {
      past += 1
      continue
    }
    const own = viewed.song.tracks[copied.cue.track]?.part === part
    const goes = tracks.get(part) ?? trackOf(viewed, part)
    if (!own) tracks.set(part, goes)
    const track = own ? copied.cue.track : goes.track
    const { section, start } = homeOf(viewed, at + copied.later, track)
    const copy = newId('cue')
    made.push({ section, cue: copy })
    const value = { ...copied.cue, light: lightFor(show, part, copied), track }
    told.push([
      'addCues',
      {
        song: viewed.id,
        section,
        cues: { [copy]: { ...value, at: ticks(at + copied.later - start) } },
      },
    ])
  }
  const missing = [
    ...[...without].map(name => `no part here for ${name}`),
    ...(past > 0 ? [`${past} would start after the song’s end`] : []),
  ]
  const but = missing.length > 0 ? `; left out: ${missing.join(', ')}` : ''
  if (told.length === 0) {
    tell(`Nothing pasted${but}.`)
    return
  }
  const given = [...tracks.values()].flatMap(({ edits }) => edits)
  void editTogether(told.length === 1 ? 'Paste a cue' : `Paste ${told.length} cues`, [...given, ...told])
  if (useSession.getState().problem) return
  choose(made)
  reveal(at)
  const from = copiedFrom === viewed.song.title ? '' : ` from ${copiedFrom}`
  tell(`${counted(told.length)} pasted${from} at ${placeWords(meters, at)}${but}.`)
}

/** A look's light is by its part: on a part that the look has nothing for, the cue gets what it had as its own. */
function lightFor(show: Show, part: string, { cue, light }: Copied): Cue['light'] {
  if (!('look' in cue.light)) return cue.light
  return show.looks[cue.light.look]?.parts[part] || !light ? cue.light : light
}
