// The greatest currents of tonight's songs, box by box: metered in the background while the rig page is open, each song
// once until something that its light comes from changes; the newest edit wins.

import type { BoxPeak } from '@glowchart/shared/power/meter.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import { create } from 'zustand'
import { shownDocuments, useDocument } from '../../document/document.ts'
import { viewedSongNow } from '../../document/viewed.ts'
import type { FromPeakWorker, ToPeakWorker } from './request.ts'

interface Peaks {
  /** By song; a song whose light has changed keeps its old ones until it has been metered again. */
  readonly songs: Readonly<Record<string, readonly BoxPeak[]>>
  /** Songs still to be metered, and how far the one at hand is, 0…1. */
  readonly left: number
  readonly share: number
}

export const usePeaks = create<Peaks>(() => ({ songs: {}, left: 0, share: 0 }))

/** An edit waits so long for the next one, ms. */
const PAUSE = 300

type Sources = readonly unknown[]

/** What the peaks at hand were metered from, by song: it outlives the page, so that coming back costs nothing. */
const known = new Map<string, Sources>()

/** Starts metering. Returns what ends it. */
export function startMetering(): () => void {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  let asked: { id: number; from: Map<string, Sources> } = { id: 0, from: new Map() }
  let soon: ReturnType<typeof setTimeout> | undefined

  const ask = () => {
    const documents = shownDocuments()
    if (!documents) return
    const { rig, show } = documents
    forget(show)
    const seen = viewedSongNow()?.id
    const songs = show.songOrder
      .filter(song => !isSame(known.get(song), sourcesOf(documents, song)))
      .sort((a, b) => Number(b === seen) - Number(a === seen))
    // What is asked already, and what comes of it, stands as it is.
    const from = new Map(songs.map(song => [song, sourcesOf(documents, song)]))
    if (songs.length > 0 && songs.every(song => isSame(asked.from.get(song), from.get(song)!))) return
    asked = { id: asked.id + 1, from }
    usePeaks.setState({ left: songs.length, share: 0 })
    const kept = { ...show, songs: Object.fromEntries(songs.map(id => [id, show.songs[id]!])) }
    worker.postMessage({ id: asked.id, rig, show: kept, kit: show.tonight, songs } satisfies ToPeakWorker)
  }

  worker.onmessage = ({ data }: MessageEvent<FromPeakWorker>) => {
    if (data.id !== asked.id) return
    if ('share' in data) {
      usePeaks.setState({ share: data.share })
      return
    }
    known.set(data.song, asked.from.get(data.song)!)
    const { songs, left } = usePeaks.getState()
    usePeaks.setState({ songs: { ...songs, [data.song]: data.peaks }, left: left - 1, share: 0 })
  }

  const stop = useDocument.subscribe(() => {
    clearTimeout(soon)
    soon = setTimeout(ask, PAUSE)
  })
  ask()
  return () => {
    clearTimeout(soon)
    stop()
    worker.terminate()
    usePeaks.setState({ left: 0, share: 0 })
  }
}

/** The values that a song's currents come from: the same ones give the same currents. */
function sourcesOf({ rig, show }: Documents, song: string): Sources {
  const kit = show.kits[show.tonight]
  return [
    rig.builds,
    wiredOf(rig),
    rig.fixtures,
    kit && pluggedOf(kit),
    show.parts,
    show.songs[song],
    show.looks,
    show.swatches,
    show.output.rate,
  ]
}

const isSame = (a: Sources | undefined, b: Sources): boolean =>
  a?.length === b.length && b.every((value, i) => value === a[i])

/** Gives the value before while it is equal: what stays the same keeps its identity. */
function steady<From, To>(of: (from: From) => To): (from: From) => To {
  let last: { from: From; to: To } | null = null
  return from => {
    if (last?.from === from) return last.to
    const to = of(from)
    last = { from, to: last && sameValue(last.to, to) ? last.to : to }
    return last.to
  }
}

/** Of the boxes, what reaches the light: another cable or fuse draws no other current here. */
const wiredOf = steady((rig: Rig) =>
  Object.entries(rig.boxes).map(([id, { universe, address, decoder, sockets }]) => ({
    id,
    universe,
    address,
    decoder,
    sockets: sockets.map(s => [s.id, s.channels]),
  })),
)

/** Of the kit, what reaches the light: moving a stand does not. */
const pluggedOf = steady((kit: Kit) => ({
  boxes: Object.entries(kit.boxes).map(([id, { powerLimit, sockets }]) => ({
    id,
    powerLimit: powerLimit ?? null,
    sockets: Object.entries(sockets).map(([socket, { fixture, trim, swap, missing }]) => [
      socket,
      fixture,
      trim,
      swap ?? '',
      missing === true,
    ]),
  })),
  guests: Object.entries(kit.guests).map(([id, { build, universe, address, trim }]) => [
    id,
    build,
    universe,
    address,
    trim,
  ]),
  parts: kit.parts,
}))

/** Songs that are gone leave no currents behind. */
function forget(show: Show): void {
  const { songs } = usePeaks.getState()
  const gone = Object.keys(songs).filter(song => !show.songs[song])
  if (gone.length === 0) return
  for (const song of gone) known.delete(song)
  usePeaks.setState({ songs: Object.fromEntries(Object.entries(songs).filter(([id]) => show.songs[id])) })
}
