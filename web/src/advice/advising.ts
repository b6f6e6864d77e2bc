// All advice as the page knows it: read again in the background after edits, the song on the page first, the newest edit wins.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { songsTonight } from '@glowchart/shared/preflight/set.ts'
import { diffOf } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { create } from 'zustand'
import { shownDocuments, useDocument } from '../document/document.ts'
import { say, useSession } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { isSame, readFrom } from './read-from.ts'
import type { FromAdviceWorker, ToAdviceWorker } from './request.ts'

interface AdviceState {
  readonly stage: readonly Advice[]
  /** By song; none for a song that has not been read yet. */
  readonly songs: Readonly<Record<string, readonly Advice[]>>
  /** Whether the stage has been read at all. */
  readonly stageRead: boolean
  /** Songs whose advice is still to be read, or read again. */
  readonly waiting: readonly string[]
  /** Reading has been stopped by hand. */
  readonly paused: boolean
}

export const useAdvice = create<AdviceState>(() => ({
  stage: [],
  songs: {},
  stageRead: false,
  waiting: [],
  paused: false,
}))

/** Goes on reading, or leaves off until told to go on. */
export const readOn = (on: boolean): void => useAdvice.setState({ paused: !on })

/** An edit waits so long for the next one, ms. */
const PAUSE = 400

/** Starts reading. Returns what ends it. */
export function startAdvising(): () => void {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  /** What the advice at hand was read from, by song; by null, of the stage. */
  const known = new Map<string | null, readonly unknown[]>()
  let asked: { id: number; from: Map<string | null, readonly unknown[]> } = { id: 0, from: new Map() }
  /** What the worker has; a long show is cloned to it only once. */
  let sent: Documents | null = null
  let soon: ReturnType<typeof setTimeout> | undefined

  const ask = () => {
    const documents = shownDocuments()
    if (!documents) return
    const { show } = documents
    const isOld = (song: string | null) => !isSame(known.get(song), readFrom(documents, song))
    const seen = viewedSongNow()?.id
    const songs = inOrder(show)
      .sort((a, b) => Number(b === seen) - Number(a === seen))
      .filter(isOld)
    const stage = isOld(null)
    forget(documents, known)
    useAdvice.setState({ waiting: songs })
    if (useAdvice.getState().paused || (songs.length === 0 && !stage)) return
    const from = new Map([...songs, ...(stage ? [null] : [])].map(of => [of, readFrom(documents, of)]))
    asked = { id: asked.id + 1, from }
    const what = sent?.show.id === show.id ? { change: changeOf(sent, documents) } : documents
    worker.postMessage({ id: asked.id, documents: what, stage, songs } satisfies ToAdviceWorker)
    sent = documents
  }

  const later = () => {
    // That nothing has been read yet is told at once.
    const { show } = shownDocuments() ?? {}
    if (known.size === 0 && show) useAdvice.setState({ waiting: inOrder(show) })
    clearTimeout(soon)
    soon = setTimeout(ask, PAUSE)
  }

  worker.onmessage = ({ data }: MessageEvent<FromAdviceWorker>) => {
    if (data.id !== asked.id) return
    known.set(data.song, asked.from.get(data.song) ?? [])
    const { songs, waiting } = useAdvice.getState()
    if (data.song === null) useAdvice.setState({ stage: data.advice, stageRead: true })
    else {
      if (data.song === viewedSongNow()?.id) announce(songs[data.song], data.advice)
      useAdvice.setState({
        songs: { ...songs, [data.song]: data.advice },
        waiting: waiting.filter(song => song !== data.song),
      })
    }
  }

  const stopDocument = useDocument.subscribe(later)
  const stopSession = useSession.subscribe((now, before) => {
    if (now.song !== before.song) ask()
  })
  const stopPausing = useAdvice.subscribe((now, before) => {
    if (now.paused === before.paused) return
    if (!now.paused) return ask()
    // A request for nothing ends the one under way.
    asked = { id: asked.id + 1, from: new Map() }
    if (sent) worker.postMessage({ id: asked.id, documents: NO_CHANGE, stage: false, songs: [] })
  })
  later()
  return () => {
    clearTimeout(soon)
    stopPausing()
    stopDocument()
    stopSession()
    worker.terminate()
  }
}

/** Tonight's songs first. */
const inOrder = (show: Show): string[] => [...new Set([...songsTonight(show), ...show.songOrder])]

const NO_CHANGE = { change: { rig: [], show: [] } } as const

const changeOf = (before: Documents, after: Documents) => ({
  rig: diffOf(before.rig, after.rig),
  show: diffOf(before.show, after.show),
})

/** Songs that are gone leave no advice behind. */
function forget({ show }: Documents, known: Map<string | null, readonly unknown[]>): void {
  const gone = [...known.keys()].filter(song => song !== null && !show.songs[song])
  if (gone.length === 0) return
  for (const song of gone) known.delete(song)
  const { songs } = useAdvice.getState()
  useAdvice.setState({ songs: Object.fromEntries(Object.entries(songs).filter(([id]) => show.songs[id])) })
}

/** Says only what is new and must not be played so. */
function announce(before: readonly Advice[] | undefined, now: readonly Advice[]): void {
  const stops = (advice: readonly Advice[] = []) => advice.filter(a => a.severity === 'stop')
  const old = new Set(stops(before).map(a => a.says))
  const fresh = before && stops(now).find(a => !old.has(a.says))
  if (fresh) say(`Must not be played so: ${fresh.says}`)
}
