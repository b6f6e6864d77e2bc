// Tonight's set as steps, one after the other: songs, and the looks that stand before, between and after them.

import type { Show } from '../show/schema.ts'
import { secondsAt } from '../time/tempo.ts'
import { timelineOf } from '../time/timeline.ts'
import type { Input } from '../trigger/trigger.ts'

export type SetStep =
  | { readonly kind: 'song'; readonly song: string; readonly number: number; readonly note?: string }
  | { readonly kind: 'look'; readonly look: string; readonly when: 'walkIn' | 'change' | 'end' }

/** The steps of tonight's set list; of all songs in their order, where none is chosen. `number` counts songs from 1. */
export function stepsOf(show: Show): SetStep[] {
  const list = show.tonightList === undefined ? undefined : show.setLists[show.tonightList]
  if (!list) return show.songOrder.map((song, i) => ({ kind: 'song', song, number: i + 1 }))
  const look = (id: string | undefined, when: 'walkIn' | 'change' | 'end'): SetStep[] =>
    id === undefined ? [] : [{ kind: 'look', look: id, when }]
  return [
    ...look(list.walkIn, 'walkIn'),
    ...list.songs.flatMap(({ song, note, before }, i): SetStep[] => [
      ...look(before, 'change'),
      { kind: 'song', song, number: i + 1, ...(note !== undefined && { note }) },
    ]),
    ...look(list.end, 'end'),
  ]
}

/**
 * The song that a program change or a song select names by its number, and its place in the set; null where tonight's
 * list does not ask for it. On the wire both count from 0, on most devices from 1 (common practice, no source).
 */
export function songByNumber(show: Show, input: Input): { song: string; place: number } | null {
  const list = show.tonightList === undefined ? undefined : show.setLists[show.tonightList]
  if (!list?.byNumber || (input.from !== 'program' && input.from !== 'songSelect')) return null
  const number = 1 + (input.from === 'program' ? input.program : input.song)
  const steps = stepsOf(show)
  const place = steps.findIndex(step => step.kind === 'song' && step.number === number)
  const step = steps[place]
  return step?.kind === 'song' ? { song: step.song, place } : null
}

/** What stands in the engine, and where in the set that was said to be. */
export interface Standing {
  readonly song: string | null
  readonly look: string | null
  readonly place: number | null
}

/** Index of the step that stands: the one nearest to where it was said to be; −1 when it is none of the set. */
export function stepAt(steps: readonly SetStep[], { song, look, place }: Standing): number {
  let best = -1
  for (const [i, step] of steps.entries()) {
    if (step.kind === 'song' ? step.song !== song : step.look !== look) continue
    if (best < 0 || Math.abs(i - (place ?? 0)) < Math.abs(best - (place ?? 0))) best = i
  }
  return best
}

/** Where the set is: the step that stands; under the house look, the step that it was called from. −1: nowhere in it. */
export function setPlace(show: Show, steps: readonly SetStep[], standing: Standing): number {
  const house = show.tonightList === undefined ? undefined : show.setLists[show.tonightList]?.house
  if (standing.place !== null && standing.look !== null && standing.look === house) return standing.place
  return stepAt(steps, standing)
}

/** Seconds that a song takes as written, each vamp once. */
export function songSeconds(show: Show, song: string): number {
  const timeline = timelineOf(show.songs[song]!)
  return secondsAt(timeline.tempo, timeline.length)
}
