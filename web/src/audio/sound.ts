// Sound on this page: starts with the first press of play, brings Tone then, and says how long a start must wait for it.

import { countIn } from '@glowchart/shared/score/clicks.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { TICKS_PER_BEAT, type Ticks } from '@glowchart/shared/time/units.ts'
import { usePreferences } from '../document/preferences.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { audioTimeOf, soundWith } from './anchor.ts'
import { audioContext, wakeAudio } from './context.ts'

let loading: Promise<void> | null = null

/** The first play waits no longer than this (ms) for Tone; then it plays, and sound comes in when it is there. */
const PATIENCE = 1500
/** Between a press and the first beat, s: what it takes until a beat can be on time. */
const LEAD = 0.15

/** Wakes the sound inside a gesture; resolves when it can be heard, or was waited for long enough. */
export async function wakeSound(): Promise<void> {
  try {
    wakeAudio()
  } catch {
    // Without an output there is no sound; the song is played all the same.
    return
  }
  loading ??= load().catch(() => {
    // It could not be fetched or made: the next play tries again.
    loading = null
  })
  await Promise.race([loading, new Promise(resolve => setTimeout(resolve, PATIENCE))])
}

async function load(): Promise<void> {
  const context = audioContext()
  if (!context) return
  // Tone greets in the console otherwise.
  Object.assign(globalThis, { TONE_SILENCE_LOGGING: true })
  const { makePlayer } = await import('./player.ts')
  soundWith(await makePlayer(context))
  // The card has to have played something before it can say when it is heard.
  while (audioTimeOf(0) === null) await new Promise(resolve => setTimeout(resolve, 20))
}

/** Whether anything of this song would be heard. */
export function hasSound({ song }: ViewedSong): boolean {
  const { sound } = usePreferences.getState()
  return sound.click || sound.countIn > 0 || (sound.score && hasScore(song)) || song.audio !== undefined
}

export const hasScore = (song: ViewedSong['song']): boolean =>
  Object.values(song.sections).some(section => (section.score?.length ?? 0) > 0)

/** Seconds from the press of play to the song's first move: the count-in, and what sound needs to be on time. */
export function secondsBefore({ timeline }: ViewedSong, at: Ticks, speed: number): number {
  const bars = usePreferences.getState().sound.countIn
  const first = countIn(timeline.meters, at, bars)[0]
  const beats = first ? -first.at / TICKS_PER_BEAT : 0
  return LEAD + (audioContext()?.outputLatency ?? 0) + (beats * 60) / (bpmAt(timeline.tempo, at) * speed)
}
