// The choice: what the next key, press or value is about, cues or one other thing. It follows cues that move to another section.

import type { Song } from '@glowchart/shared/show/song.ts'
import { create } from 'zustand'
import { useDocument } from './document.ts'
import { useSession } from './session.ts'
import { viewedSongNow } from './viewed.ts'

/** A cue by the section whose record holds it (the source, where it is seen over a link). */
export interface ChosenCue {
  readonly section: string
  readonly cue: string
}

/** What may be chosen in place of cues: a section of the song on the page, a part or a look of the show. */
interface ChosenThing {
  readonly kind: 'section' | 'part' | 'look'
  readonly id: string
}

interface Choice {
  readonly cues: readonly ChosenCue[]
  /** Null while cues are chosen, as there is one choice; but all cues of a part in the song are chosen with the part. */
  readonly thing: ChosenThing | null
  /** The section that cues were chosen in, where that is a copy which shows them over its link; or null. */
  readonly seenIn: string | null
}

export const useChoice = create<Choice>(() => ({ cues: [], thing: null, seenIn: null }))

export const choose = (cues: readonly ChosenCue[], seenIn: string | null = null): void =>
  useChoice.setState({ cues, thing: null, seenIn })

/** Chooses a section, a part or a look; its panel comes to the side. */
export const chooseThing = (kind: ChosenThing['kind'], id: string): void =>
  useChoice.setState({ cues: [], thing: { kind, id } })

/** Chooses a part with all its cues in the song. */
export const choosePart = (part: string, cues: readonly ChosenCue[]): void =>
  useChoice.setState({ cues, thing: { kind: 'part', id: part } })

/** Adds a cue to the choice, or takes it out. */
export function toggleChosen(cue: ChosenCue): void {
  const { cues } = useChoice.getState()
  const without = cues.filter(other => !isSame(other, cue))
  choose(without.length < cues.length ? without : [...cues, cue], useChoice.getState().seenIn)
}

export function clearChoice(): void {
  const { cues, thing } = useChoice.getState()
  if (cues.length > 0 || thing) choose([])
}

const isSame = (a: ChosenCue, b: ChosenCue): boolean => a.section === b.section && a.cue === b.cue

/** A cue's key in sets and maps. */
export const keyOfCue = ({ section, cue }: ChosenCue): string => `${section}/${cue}`

/** The keys of the cues chosen now. */
export const chosenKeys = (): ReadonlySet<string> => new Set(useChoice.getState().cues.map(keyOfCue))

/** Where a cue is in a song by now; null when it is gone. */
function found(song: Song, cue: ChosenCue): ChosenCue | null {
  if (song.sections[cue.section]?.cues[cue.cue]) return cue
  const section = song.sectionOrder.find(id => song.sections[id]?.cues[cue.cue])
  return section === undefined ? null : { section, cue: cue.cue }
}

function isThere({ kind, id }: ChosenThing): boolean {
  const { show } = useDocument.getState()
  if (kind === 'section') return viewedSongNow()?.song.sections[id] !== undefined
  return (kind === 'part' ? show?.parts[id] : show?.looks[id]) !== undefined
}

function follow(): void {
  const { cues, thing } = useChoice.getState()
  if (thing && !isThere(thing)) choose([])
  if (cues.length === 0) return
  const song = viewedSongNow()?.song
  const now = song ? cues.flatMap(cue => found(song, cue) ?? []) : []
  if (now.length !== cues.length || now.some((cue, i) => cue !== cues[i])) useChoice.setState({ cues: now })
}
useDocument.subscribe(follow)
useSession.subscribe((now, before) => {
  if (now.song !== before.song) follow()
})
