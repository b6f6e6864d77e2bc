// The band that plays a score: drums, bass, chords and lead, each a synthesiser of Tone's; to be silent it is let go.

import type { Voice } from '@glowchart/shared/show/song.ts'
import { type DrumKit, drumOf } from './drums.ts'
import { Filter, FMSynth, Gain, type InputNode, MonoSynth, Synth, ToneBufferSource } from './tone.ts'

/** A note at a time of the AudioContext (s), held for some seconds. */
export interface Struck {
  readonly voice: Voice
  readonly key: number
  readonly velocity: number
  readonly at: number
  readonly seconds: number
}

export interface Band {
  strike(note: Struck): void
  /** Falls silent from a time on, whatever was struck, and is of no more use. */
  leave(at: number): void
}

const hertz = (key: number): number => 440 * 2 ** ((key - 69) / 12)
/** Loudness by velocity: the square of its share is common practice, no source. */
const gain = (velocity: number): number => (velocity / 127) ** 2
/** Two notes of one synthesiser cannot begin at once. */
const APART = 0.002
const FADE = 0.012

interface Player {
  triggerAttackRelease(note: number, seconds: number, at: number, velocity: number): unknown
}

/** Gives each note to the one of some equal players that has been free longest. */
function section(players: readonly Player[], release: number): (note: Struck) => void {
  const seats = players.map(player => ({ player, began: 0, free: 0 }))
  return ({ key, velocity, at, seconds }) => {
    const seat = seats.reduce((best, next) => (next.free < best.free ? next : best))
    const from = Math.max(at, seat.began + APART)
    seat.began = from
    seat.free = from + seconds + release
    seat.player.triggerAttackRelease(hertz(key), Math.max(0.02, seconds), from, gain(velocity))
  }
}

const CHORD_NOTES = 10

/** @param dry where all of it is heard; @param room where some of it rings on */
export function makeBand(drums: DrumKit, dry: InputNode, room: InputNode): Band {
  const out = new Gain(1).connect(dry)
  const ringing = new Gain(1).connect(room)
  const desk = (level: number, send: number): Gain => {
    const channel = new Gain(level).connect(out)
    channel.connect(new Gain(send).connect(ringing))
    return channel
  }
  const kit = desk(0.9, 0.06)
  const bass = new MonoSynth({
    oscillator: { type: 'sawtooth' },
    filter: { type: 'lowpass', Q: 1.5, rolloff: -24 },
    filterEnvelope: {
      attack: 0.004,
      decay: 0.2,
      sustain: 0.25,
      release: 0.1,
      baseFrequency: 80,
      octaves: 3,
    },
    envelope: { attack: 0.006, decay: 0.3, sustain: 0.6, release: 0.08 },
  }).connect(desk(0.5, 0))
  const chordDesk = new Filter(2600, 'lowpass').connect(desk(0.16, 0.5))
  const chords = Array.from({ length: CHORD_NOTES }, () =>
    new Synth({
      oscillator: { type: 'custom', partials: [1, 0.42, 0.22, 0.1, 0.06, 0.03] },
      envelope: { attack: 0.012, decay: 0.7, sustain: 0.4, release: 0.3 },
    }).connect(chordDesk),
  )
  const lead = new FMSynth({
    harmonicity: 2,
    modulationIndex: 1.4,
    oscillator: { type: 'triangle' },
    envelope: { attack: 0.02, decay: 0.3, sustain: 0.6, release: 0.2 },
    modulationEnvelope: { attack: 0.02, decay: 0.4, sustain: 0.3, release: 0.2 },
  }).connect(desk(0.24, 0.6))

  const play: Record<Voice, (note: Struck) => void> = {
    drums: ({ key, velocity, at }) => {
      new ToneBufferSource({ url: drums[drumOf(key)], fadeOut: 0 })
        .connect(kit)
        .start(at, 0, undefined, gain(velocity))
    },
    bass: section([bass], 0),
    chords: section(chords, 0.3),
    lead: section([lead], 0),
  }
  return {
    strike: note => play[note.voice](note),
    leave(at) {
      for (const end of [out, ringing]) {
        end.gain.setValueAtTime(1, at)
        end.gain.linearRampToValueAtTime(0, at + FADE)
      }
      // Once nothing of it is heard, its parts go.
      setTimeout(() => {
        for (const part of [bass, lead, chordDesk, ...chords, kit, out, ringing]) part.dispose()
      }, 400)
    },
  }
}
