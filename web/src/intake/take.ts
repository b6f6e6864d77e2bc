// Takes a finished song into the show as one step back, and puts it on the page and into the engine.

import type { Song } from '@glowchart/shared/show/song.ts'
import type { Answer } from '../connection.ts'
import { shownDocuments } from '../document/document.ts'
import { editTogether } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { useSession } from '../document/session.ts'
import { chooseSong } from '../transport/moves.ts'

/** @param says the step's name in the history; null: the edit's own
 * @returns the song's id; null when the show did not take it, and the session's problem says why. */
export function takeSong(value: Song, says: string | null = null): string | null {
  const song = newId('song')
  const answer = editTogether(says, [['takeSong', { song, value }]])
  if (!shownDocuments()?.show.songs[song]) return null
  putOnPage(song, answer)
  return song
}

/** Puts a song that has just been made on the page, and into the engine once the server has it. */
export function putOnPage(song: string, made: Promise<Answer>): void {
  useSession.setState({ song, lines: {} })
  void made.then(({ ok }) => {
    if (ok && useSession.getState().song === song) void chooseSong(song)
  })
}

/** Ids for the inside of a new song. */
export const inside = (): string => newId('own')
