// The light rolls of the page: one worker, one roll at a time, the nearest first; lines whose light an edit leaves alone
// keep their pictures, the others keep the old one until the new one is there.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { diffOf } from '@glowchart/shared/show/diff.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { pictureCache } from './pictures.ts'
import type { FromRollWorker, RollRow, RollShape, ToRollWorker } from './request.ts'

export interface Rolls {
  /**
   * From now on rolls are of this song, and no longer of a draft. Lines that wish for a roll get it anew where its
   * light has changed.
   */
  setSong(rig: Rig, show: Show, song: string): void
  /**
   * Shows the light of a draft (a show as it would be, made by an edit's pure function on the one that stands) without
   * its being saved. As often as the pointer moves: only the newest is rendered. `null` takes it back, and the pictures
   * are those from before, without being drawn again. An edit that is done needs no `null`: the next `setSong` does it.
   */
  preview(draft: Show | null): void
  /**
   * Wishes for the roll of a line, until withdrawn by what is returned. `take` gets it whenever it is another one, at
   * once where it is drawn already (the picture stays ours). The wish with the least `nearness` comes first.
   */
  wish(shape: RollShape, nearness: () => number, take: (picture: ImageBitmap) => void): () => void
  /** Lines that will be wished for when the page is scrolled, nearest first: drawn when there is nothing else to do. */
  setPage(shapes: () => readonly RollShape[]): void
  /** Rolls wished for and not drawn yet. */
  waiting(): number
  close(): void
}

/** What rolls need of their worker. */
export type RollWorker = Pick<Worker, 'postMessage' | 'onmessage' | 'terminate'>

/** One that has nothing to do, kept for who comes next: panels come and go, and a worker takes a moment to begin. */
let idle: RollWorker | null = null

function startWorker(): RollWorker {
  const worker = idle ?? new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  idle = null
  return worker
}

/** A shape, and where in the song. */
interface Place {
  readonly shape: RollShape
  /** Equal for shapes that differ only in where they lie. */
  readonly key: string
  /** The key with the place. */
  readonly id: string
}

interface Wish extends Place {
  readonly nearness: () => number
  readonly take: (picture: ImageBitmap) => void
  /** Content of the picture it has. */
  shown: string | null
}

interface Song {
  readonly rig: Rig
  readonly show: Show
  readonly song: string
}

/** About 100 MB; a line that stands open has about a quarter of a million at one device px a CSS px. */
const MOST_PIXELS = 24e6
/** The rest is for what an undo brings back. */
const MOST_AHEAD = 0.75 * MOST_PIXELS
/** Hands that pause so long, ms, leave time for lines that are out of sight. */
const PAUSE = 400

export function startRolls(given?: RollWorker): Rolls {
  const worker = given ?? startWorker()
  const pictures = pictureCache<ImageBitmap>(MOST_PIXELS)
  const wishes = new Set<Wish>()
  /** The last content heard of each place, and which state of the song it is of. */
  const known = new Map<string, { content: string; state: number }>()
  let saved: Song | null = null
  let draft: Show | null = null
  let sent: Song | null = null
  /** Counts what has been sent. */
  let state = 0
  /** The state that the worker could not render. */
  let failed = -1
  let busy: ((answer: FromRollWorker) => void) | null = null
  let scheduled = false
  let page: () => readonly RollShape[] = () => []
  let paused: ReturnType<typeof setTimeout> | undefined

  const ask = (message: ToRollWorker, then: (answer: FromRollWorker) => void) => {
    busy = then
    worker.postMessage(message)
  }

  /** Once the caller has said all it wants. */
  const soon = () => {
    if (scheduled) return
    scheduled = true
    queueMicrotask(() => {
      scheduled = false
      if (!busy) next()
    })
  }

  const current = (): Song | null => (saved && draft ? { ...saved, show: draft } : saved)

  const bringUpToDate = (): void => {
    const now = current()
    if (!now || (sent && sent.rig === now.rig && sent.show === now.show && sent.song === now.song)) return
    if (sent && failed !== state && sent.show.id === now.show.id && sent.rig.id === now.rig.id) {
      const change = { rig: diffOf(sent.rig, now.rig), show: diffOf(sent.show, now.show), song: now.song }
      worker.postMessage({ type: 'change', ...change } satisfies ToRollWorker)
    } else worker.postMessage({ type: 'load', ...now } satisfies ToRollWorker)
    sent = now
    state += 1
  }

  const isUnknown = (place: Place): boolean => known.get(place.id)?.state !== state

  /** Asks what light places have, and has the first that there is no picture of drawn. */
  const draw = (places: readonly Place[], inSight: boolean) => {
    const had = new Map(places.map(({ key }) => [key, pictures.contentsOf(key)]))
    const wanted = places.map(({ shape, id, key }) => ({ shape, place: id, has: had.get(key)! }))
    ask({ type: 'draw', wanted, inSight }, answer => {
      if (answer.type !== 'drawn') return
      const { contents, drawn } = answer
      for (const [i, { id }] of places.entries()) known.set(id, { content: contents[i]!, state })
      if (drawn) pictures.keep(places[drawn.index]!.key, contents[drawn.index]!, drawn.picture)
      for (const wish of wishes) give(wish)
    })
  }

  /** Gives a wish the picture that was last known to be right, if it is there and another one than it has. */
  const give = (wish: Wish) => {
    const content = known.get(wish.id)?.content
    const picture = content === undefined ? undefined : pictures.get(wish.key, content)
    if (content === undefined || !picture || wish.shown === content) return
    wish.shown = content
    wish.take(picture)
  }

  const isOld = (wish: Wish): boolean => wish.shown !== known.get(wish.id)?.content

  const next = () => {
    bringUpToDate()
    if (!sent || failed === state) return
    // After an edit all of them: whose light it changed is found and drawn in one turn.
    const unknown = [...wishes].filter(isUnknown)
    const left = unknown.length > 0 ? unknown : [...wishes].filter(isOld)
    const nearest = left.map(wish => ({ wish, far: wish.nearness() })).sort((a, b) => a.far - b.far)
    if (nearest.length > 0)
      draw(
        nearest.map(({ wish }) => wish),
        true,
      )
    else if (paused === undefined) drawAhead()
  }

  const drawAhead = () => {
    const ahead = page().map(placeOf)
    const unknown = ahead.filter(isUnknown)
    if (unknown.length > 0) return draw(unknown, false)
    let pixels = 0
    for (const place of ahead) {
      pixels += pixelsOf(place.shape)
      if (pixels > MOST_AHEAD) return
      if (!pictures.get(place.key, known.get(place.id)!.content)) return draw([place], false)
    }
  }

  /** Something is being done: what is out of sight can wait. */
  const pause = () => {
    clearTimeout(paused)
    paused = setTimeout(() => {
      paused = undefined
      soon()
    }, PAUSE)
    soon()
  }

  worker.onmessage = ({ data }: MessageEvent<FromRollWorker>) => {
    const then = busy
    busy = null
    if (data.type === 'failed') {
      console.error(`Light roll: ${data.says}`)
      // Until something changes it would fail again.
      failed = state
    } else then?.(data)
    soon()
  }

  return {
    setSong(rig, show, song) {
      saved = { rig, show, song }
      draft = null
      pause()
      // Before the page itself is drawn anew: meanwhile the worker is at it.
      if (!busy) next()
    },
    preview(show) {
      draft = show
      pause()
    },
    wish(shape, nearness, take) {
      const wish: Wish = { ...placeOf(shape), nearness, take, shown: null }
      wishes.add(wish)
      give(wish)
      pause()
      return () => wishes.delete(wish)
    },
    setPage(shapes) {
      page = shapes
      pause()
    },
    waiting() {
      let count = 0
      for (const wish of wishes) if (isOld(wish)) count++
      return count
    },
    close() {
      clearTimeout(paused)
      worker.onmessage = null
      // An answer under way would come to who has it next.
      if (given || busy || idle) worker.terminate()
      else idle = worker
      pictures.clear()
    },
  }
}

const rowKeys = new WeakMap<readonly RollRow[], number>()
const rowNumbers = new Map<string, number>()

/** Rows are the same on many lines, and long in words: equal ones have one number. */
function keyOfRows(rows: readonly RollRow[]): number {
  let key = rowKeys.get(rows)
  if (key === undefined) {
    const text = JSON.stringify(rows)
    key = rowNumbers.get(text) ?? rowNumbers.size
    rowNumbers.set(text, key)
    rowKeys.set(rows, key)
  }
  return key
}

function placeOf(shape: RollShape): Place {
  const { edges, rows, barWidth, height, pad, bloom, scale } = shape
  const bars = edges.map(edge => edge - edges[0]!)
  const key = `${bars} ${barWidth} ${height} ${pad} ${bloom} ${scale} ${keyOfRows(rows)}`
  return { shape, key, id: `${edges[0]} ${key}` }
}

const pixelsOf = ({ edges, barWidth, height, pad, scale }: RollShape): number =>
  ((edges.length - 1) * barWidth + 2 * pad) * (height + 2 * pad) * scale * scale
