// The moment at which a box gives most: over all songs of a list, or in one song.

import type { BoxPeak } from '@glowchart/shared/power/meter.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'

export interface Brightest {
  readonly song: string
  /** 0-based. */
  readonly bar: number
  readonly amps: number
}

type Songs = Readonly<Record<string, readonly BoxPeak[]>>

/** The greatest current of a box over those songs that have been metered; null when none has. */
export function brightestOf(songs: Songs, among: readonly string[], box: string): Brightest | null {
  let most: Brightest | null = null
  for (const song of among) {
    const peak = songs[song]?.find(p => p.box === box)
    if (peak && (!most || peak.amps > most.amps)) most = { song, bar: peak.bar, amps: peak.amps }
  }
  return most
}

/** The songs that are played tonight: those of a set list, or all of them. */
export function songsTonight(show: Show, setList: string | null): readonly string[] {
  const list = setList === null ? undefined : show.setLists[setList]
  return list ? [...new Set(list.songs.map(entry => entry.song))] : show.songOrder
}
