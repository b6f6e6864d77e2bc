// The recording of the song on the page: fetched, decoded and outlined when the song comes onto the page; one is kept.

import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import { create } from 'zustand'
import { useDocument } from '../document/document.ts'
import { useSession } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { decode, mono } from './decode.ts'
import { listen } from './listening.ts'

interface Recording {
  /** The file it is of; null: the song has none. */
  readonly file: string | null
  readonly buffer: AudioBuffer | null
  /** See `peaks.ts`; comes after the buffer. */
  readonly peaks: Float32Array | null
  readonly problem: Problem | null
}

const NONE: Recording = { file: null, buffer: null, peaks: null, problem: null }
export const useRecording = create<Recording>(() => NONE)

/** Takes a recording that has been decoded already. */
export function takeDecoded(file: string, buffer: AudioBuffer): void {
  useRecording.setState({ ...NONE, file, buffer })
  listen({ find: 'peaks', samples: mono(buffer), where: file }, said => {
    if (said.type === 'peaks' && useRecording.getState().file === file) {
      useRecording.setState({ peaks: said.peaks })
    }
  })
}

async function load(file: string, name: string): Promise<void> {
  useRecording.setState({ ...NONE, file })
  try {
    const answer = await fetch(`/api/audio/${file}`)
    if (!answer.ok) throw new CodedError('audio.unknown', 'its file is not there', name)
    const bytes = await answer.arrayBuffer()
    // Who looks through the songs has gone on by then: a long recording takes much memory.
    if (useRecording.getState().file !== file) return
    const buffer = await decode(bytes, name)
    if (useRecording.getState().file === file) takeDecoded(file, buffer)
  } catch (error) {
    if (useRecording.getState().file !== file) return
    const failed = error instanceof CodedError ? error.problem : null
    useRecording.setState({ problem: failed ?? problem('audio.unknown', String(error), name) })
  }
}

function follow(): void {
  const audio = viewedSongNow()?.song.audio
  if ((audio?.file ?? null) === useRecording.getState().file) return
  if (audio) void load(audio.file, audio.name)
  else useRecording.setState(NONE)
}

/** Starts to follow the song on the page. */
export function followRecordings(): void {
  useDocument.subscribe(follow)
  useSession.subscribe((now, before) => {
    if (now.song !== before.song) follow()
    const isBack = now.link === 'open' && before.link === 'lost'
    if (isBack && useRecording.getState().problem) {
      useRecording.setState(NONE)
      follow()
    }
  })
}
