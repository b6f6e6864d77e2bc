// Gives the song's tempo map, meters and section names to the browser as a Standard MIDI File to save.

import type { Song } from '@glowchart/shared/show/song.ts'
import { smfFromSong } from '@glowchart/shared/smf/export.ts'

export function writeMidiFile(song: Song): void {
  const file = new Blob([smfFromSong(song) as Uint8Array<ArrayBuffer>], { type: 'audio/midi' })
  const link = document.createElement('a')
  link.href = URL.createObjectURL(file)
  link.download = `${song.title.replace(/[\\/:*?"<>|\p{Cc}]/gu, '_')}.mid`
  link.click()
  // The browser has taken it by the next turn of its loop.
  setTimeout(() => URL.revokeObjectURL(link.href), 0)
}
