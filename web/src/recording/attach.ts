// Attaches a file to a song: decoded here first, then sent to the server, then named by the song.

import { CodedError, type Problem } from '@glowchart/shared/errors.ts'
import { create } from 'zustand'
import { edit } from '../document/editing.ts'
import { say, useSession } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { decode } from './decode.ts'
import { takeDecoded } from './recordings.ts'

interface Attaching {
  readonly name: string
  /** How much has been sent, 0…1; null while it is decoded. */
  readonly share: number | null
  stop(): void
}

export const useAttaching = create<{ now: Attaching | null }>(() => ({ now: null }))

export const AUDIO_FILES = '.wav,.mp3,.flac,.ogg'
/** By its name: what it truly is, is seen when it is decoded. */
export const isAudioFile = (file: File): boolean => /\.(wav|mp3|flac|ogg|oga)$/i.test(file.name)

const tell = (refusal: Problem): void => {
  useSession.setState({ problem: refusal })
  say(refusal.message)
}

/** Attaches a file to the song on the page, in place of the one it has. */
export async function attach(file: File): Promise<void> {
  const song = viewedSongNow()?.id
  if (song === undefined) return
  useAttaching.getState().now?.stop()
  const stopped = new AbortController()
  const own: Attaching = { name: file.name, share: null, stop: () => stopped.abort() }
  useAttaching.setState({ now: own })
  try {
    const bytes = await file.arrayBuffer().catch(() => {
      throw new CodedError('audio.damaged', 'it cannot be read', file.name)
    })
    const buffer = await decode(bytes, file.name)
    if (stopped.signal.aborted) return
    const kept = await send(file, stopped.signal, share => useAttaching.setState({ now: { ...own, share } }))
    if (kept === null) return
    const name = file.name.trim().slice(0, 120) || 'Recording'
    takeDecoded(kept, buffer)
    await edit('setAudio', {
      song,
      audio: { file: kept, name, seconds: buffer.duration, start: 0, level: 1 },
    })
    say(`${name} attached`)
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    tell(error.problem)
  } finally {
    if (useAttaching.getState().now?.stop === own.stop) useAttaching.setState({ now: null })
  }
}

/** Sends a file; its name on the server, or null when it was stopped. `fetch` does not say how much has been sent. */
function send(file: File, stop: AbortSignal, onProgress: (share: number) => void): Promise<string | null> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest()
    request.open('POST', `/api/audio?name=${encodeURIComponent(file.name)}`)
    request.responseType = 'json'
    request.upload.onprogress = ({ loaded, total }) => onProgress(total > 0 ? loaded / total : 0)
    request.onload = () => {
      const answer = request.response as { file?: string } & Partial<Problem>
      if (answer?.file) return resolve(answer.file)
      const {
        code = 'request.failed',
        message = 'the server gave no answer',
        where = file.name,
      } = answer ?? {}
      reject(new CodedError(code, message, where))
    }
    request.onerror = () => reject(new CodedError('audio.broken', 'the sending ended early', file.name))
    request.onabort = () => resolve(null)
    stop.addEventListener('abort', () => request.abort())
    request.send(file)
  })
}

/**
 * Takes recordings that are dropped on the title or the chart. No other file that is dropped may take the place of the
 * page, which is what browsers do with it. Returns what ends it.
 */
export function takeDrops(): () => void {
  const onPage = (event: DragEvent) =>
    event.target instanceof Element && event.target.closest('.house, #chart') !== null
  const isOurs = ({ dataTransfer, defaultPrevented }: DragEvent) =>
    !defaultPrevented && dataTransfer?.types.includes('Files')
  const onDragOver = (event: DragEvent) => {
    if (!isOurs(event)) return
    event.preventDefault()
    if (!onPage(event)) event.dataTransfer!.dropEffect = 'none'
  }
  const onDrop = (event: DragEvent) => {
    if (!isOurs(event)) return
    event.preventDefault()
    const files = [...event.dataTransfer!.files]
    // One that is none is refused by what is in it.
    const file = files.find(isAudioFile) ?? files[0]
    if (file && onPage(event)) void attach(file)
  }
  window.addEventListener('dragover', onDragOver)
  window.addEventListener('drop', onDrop)
  return () => {
    window.removeEventListener('dragover', onDragOver)
    window.removeEventListener('drop', onDrop)
  }
}
