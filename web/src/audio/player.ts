// Plays the score and the click of what is about to be heard. Loaded with Tone when sound is first wanted.

import { clicksIn, countIn } from '@glowchart/shared/score/clicks.ts'
import { firstFrom, type Note, scoreNotes } from '@glowchart/shared/score/notes.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { usePreferences } from '../document/preferences.ts'
import type { ViewedSong } from '../document/viewed.ts'
import type { Counted, Heard, Sounding } from './anchor.ts'
import { type Band, makeBand } from './band.ts'
import { makeDrums } from './drums.ts'
import { Context, Gain, getContext, Offline, Reverb, Synth, setContext, ToneBufferSource } from './tone.ts'

/** What comes later than this (s) is left out instead of played late. */
const TOO_LATE = 0.15

const accents = { bar: 1760, beat: 1175, unit: 880 } as const
type Accent = keyof typeof accents

/** Prepares everything that sounds on a context. */
export async function makePlayer(context: AudioContext): Promise<Sounding> {
  // Its own clock is not used: we know the times, and a worker for it is more than a page's policy need allow.
  setContext(new Context({ context, clockSource: 'timeout', lookAhead: 0, updateInterval: 0.2 }))
  const drums = await makeDrums()
  const clicks = await makeClicks()
  const score = new Gain(0).connect(getContext().destination)
  const gate = new Gain(1).connect(score)
  const room = new Reverb({ decay: 1.4, preDelay: 0.01, wet: 1 }).connect(gate)
  await room.ready
  const click = new Gain(0).connect(getContext().destination)

  const setLevels = (): void => {
    const { sound } = usePreferences.getState()
    score.gain.rampTo(sound.score ? sound.scoreLevel ** 2 : 0, 0.03)
    click.gain.rampTo(sound.clickLevel ** 2, 0.03)
  }
  setLevels()
  usePreferences.subscribe(setLevels)

  let band: Band | null = null
  let isOpen = false
  const scheduled = new Set<ToneBufferSource>()

  const clickAt = (accent: Accent, at: number): void => {
    const now = context.currentTime
    if (at < now - TOO_LATE) return
    const source = new ToneBufferSource({ url: clicks[accent], onended: () => scheduled.delete(source) })
    scheduled.add(source)
    source.connect(click).start(Math.max(at, now))
  }

  return {
    play(heard) {
      if (!isOpen) {
        gate.gain.cancelScheduledValues(0).setValueAtTime(1, context.currentTime)
        isOpen = true
      }
      band ??= makeBand(drums, gate, room)
      strike(heard, band, context.currentTime)
      if (!usePreferences.getState().sound.click) return
      for (const { at, accent } of clicksIn(heard.viewed.timeline.meters, heard.from, heard.to)) {
        clickAt(accent, heard.timeOf(at))
      }
    },
    count({ viewed, at, timeOf }: Counted) {
      const { meters } = viewed.timeline
      for (const beat of countIn(meters, at, usePreferences.getState().sound.countIn)) {
        // A beat that had passed before the page heard of the count-in is not made up for.
        const time = timeOf(beat.at)
        if (time > context.currentTime) clickAt(beat.accent, time)
      }
    },
    silence() {
      const now = context.currentTime
      band?.leave(now)
      band = null
      gate.gain
        .cancelScheduledValues(0)
        .setValueAtTime(1, now)
        .linearRampToValueAtTime(0, now + 0.03)
      isOpen = false
      for (const source of scheduled) source.stop(now)
      scheduled.clear()
    },
  }
}

/** Strikes the notes that begin in a stretch; where it begins anew, also those that are held over its start. */
function strike(heard: Heard, band: Band, now: number): void {
  const notes = notesOf(heard.viewed)
  const first = firstFrom(notes, heard.from)
  const strikeAt = (note: Note, tick: number): void => {
    const at = heard.timeOf(tick)
    if (at < now - TOO_LATE) return
    const seconds = heard.timeOf(note.at + note.length) - at
    band.strike({ ...note, at: Math.max(at, now), seconds })
  }
  if (heard.begins !== 'on') {
    for (const note of notes.slice(0, first)) {
      if (note.voice !== 'drums' && note.at + note.length > heard.from) strikeAt(note, heard.from)
    }
  }
  for (let i = first; i < notes.length && notes[i]!.at < heard.to; i++) strikeAt(notes[i]!, notes[i]!.at)
}

const unrolled = new WeakMap<Song, Note[]>()

function notesOf({ song, timeline }: ViewedSong): Note[] {
  let notes = unrolled.get(song)
  if (!notes) {
    notes = scoreNotes(song, timeline)
    unrolled.set(song, notes)
  }
  return notes
}

/** A click is short and begins at once: its first sample is the beat. */
async function makeClicks() {
  const make = (frequency: number, velocity: number) =>
    Offline(
      () => {
        new Synth({
          oscillator: { type: 'square', phase: 90 },
          envelope: { attack: 0, decay: 0.028, sustain: 0, release: 0.005 },
          volume: -8,
        })
          .toDestination()
          .triggerAttackRelease(frequency, 0.03, 0, velocity)
      },
      0.05,
      1,
    )
  return {
    bar: await make(accents.bar, 1),
    beat: await make(accents.beat, 0.75),
    unit: await make(accents.unit, 0.4),
  }
}
