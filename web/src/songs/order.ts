// Puts a song elsewhere in the order of the show.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { edit } from '../document/editing.ts'
import { say } from '../document/session.ts'

/** @param place index in the order as it is, before whose song it goes; the count of songs: last */
export function moveSongTo(show: Show, song: string, place: number): void {
  const now = show.songOrder.indexOf(song)
  if (now < 0 || place === now || place === now + 1) return
  void edit('moveSong', { song, before: show.songOrder[place] ?? null })
  say(`${show.songs[song]!.title} is song ${place > now ? place : place + 1} now.`)
}

export function moveSongBy(show: Show, song: string, by: 1 | -1): void {
  const place = show.songOrder.indexOf(song) + by
  if (place < 0 || place >= show.songOrder.length) return
  moveSongTo(show, song, by === 1 ? place + 1 : place)
}
