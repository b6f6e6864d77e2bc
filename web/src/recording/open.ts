// Opens the recordings: followed, dropped onto the page, and played with the engine.

import { soundWith } from '../audio/anchor.ts'
import { wakeAudio } from '../audio/context.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { takeDrops } from './attach.ts'
import { recordingPlayer } from './player.ts'
import { followRecordings } from './recordings.ts'

export function openRecordings(): void {
  followRecordings()
  takeDrops()
  soundWith(recordingPlayer())
  // Browsers let sound begin by a hand on the page only.
  const wake = () => {
    if (viewedSongNow()?.song.audio) wakeAudio()
  }
  window.addEventListener('pointerdown', wake, true)
  window.addEventListener('keydown', wake, true)
}
