// Plays the recording in time with the engine: it runs by seconds of the song, so that it fits where the tempo map does.

import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import type { Heard, Sounding } from '../audio/anchor.ts'
import { audioContext } from '../audio/context.ts'
import { useRecording } from './recordings.ts'

/** Further off than this, s, it starts anew in the right place; less is made up for by its speed. */
const JUMP = 0.02
/** Most that the speed is changed by for that: a hundredth of a semitone or so is not heard. */
const MOST_BEND = 0.004
const FADE = 0.008

interface Running {
  readonly file: string
  readonly source: AudioBufferSourceNode
  readonly gain: GainNode
  /** At context time `at` the file is at `place`, s, and runs on at `rate`. */
  at: number
  place: number
  rate: number
}

/** What the recording must do at the start of a stretch of the song. */
export function steer(
  running: { at: number; place: number; rate: number },
  wanted: { at: number; place: number; rate: number },
): 'anew' | number {
  const off = wanted.place - (running.place + (wanted.at - running.at) * running.rate)
  if (Math.abs(off) > JUMP) return 'anew'
  return wanted.rate * (1 + Math.max(-MOST_BEND, Math.min(MOST_BEND, off)))
}

export function recordingPlayer(): Sounding {
  let running: Running | null = null

  const halt = (at: number) => {
    if (!running) return
    const { gain, source } = running
    gain.gain.setTargetAtTime(0, at, FADE / 3)
    source.stop(at + FADE * 3)
    running = null
  }

  const start = (context: AudioContext, heard: Heard, file: string, buffer: AudioBuffer, from: number) => {
    const { rate } = heard
    const due = heard.timeOf(heard.from)
    // Before the recording begins there is nothing to hear; what is late begins further on.
    const when = Math.max(context.currentTime, due, from < 0 ? due - from / rate : due)
    const place = from + (when - due) * rate
    if (place >= buffer.duration) return
    const source = new AudioBufferSourceNode(context, { buffer, playbackRate: rate })
    const gain = new GainNode(context, { gain: heard.viewed.song.audio!.level ** 2 })
    source.connect(gain).connect(context.destination)
    source.onended = () => gain.disconnect()
    source.start(when, Math.max(0, place))
    running = { file, source, gain, at: when, place, rate }
  }

  return {
    play(heard) {
      const context = audioContext()
      const { audio } = heard.viewed.song
      const { file, buffer } = useRecording.getState()
      if (!context || !audio || !buffer || file !== audio.file) return halt(context?.currentTime ?? 0)
      const at = heard.timeOf(heard.from)
      const place = audio.start + secondsAt(heard.viewed.timeline.tempo, heard.from)
      if (running && running.file === file && heard.begins === 'on' && running.at <= at) {
        const next = steer(running, { at, place, rate: heard.rate })
        if (next !== 'anew') {
          running.place += (at - running.at) * running.rate
          running.at = at
          running.rate = next
          running.source.playbackRate.setValueAtTime(next, Math.max(context.currentTime, at))
          running.gain.gain.setTargetAtTime(audio.level ** 2, context.currentTime, FADE)
          return
        }
      } else if (running && heard.begins === 'on' && running.at > at) return
      halt(Math.max(context.currentTime, at))
      start(context, heard, file, buffer, place)
    },
    silence() {
      halt(audioContext()?.currentTime ?? 0)
    },
  }
}
