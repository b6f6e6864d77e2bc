// The light rolls of the page: one worker, one roll at a time, the nearest to the playhead first, and those drawn kept.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { FromRollWorker, RollShape, ToRollWorker } from './request.ts'

interface Wish {
  readonly key: string
  readonly shape: RollShape
  readonly nearness: () => number
  readonly take: (picture: ImageBitmap) => void
}

/** Pictures kept: about six screens. */
const KEPT = 96

export interface Rolls {
  /** From now on rolls are of this song; those of the one before are forgotten. */
  setSong(rig: Rig, show: Show, song: string): void
  /**
   * Asks for a roll; `take` gets it (the picture stays ours). The wish with the least `nearness` comes first.
   * Returns what withdraws it.
   */
  wish(shape: RollShape, nearness: () => number, take: (picture: ImageBitmap) => void): () => void
  /** Rolls asked for and not drawn yet. */
  waiting(): number
  close(): void
}

export function startRolls(): Rolls {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const wishes = new Set<Wish>()
  const kept = new Map<string, ImageBitmap>()
  let version = 0
  let id = 0
  let current: { id: number; wish: Wish; version: number } | null = null

  const tell = (message: ToRollWorker) => worker.postMessage(message)

  const next = () => {
    if (current || version === 0) return
    let nearest: Wish | undefined
    for (const w of wishes) if (!nearest || w.nearness() < nearest.nearness()) nearest = w
    if (!nearest) return
    wishes.delete(nearest)
    id += 1
    current = { id, wish: nearest, version }
    tell({ type: 'roll', id, shape: nearest.shape })
  }

  const keep = (key: string, picture: ImageBitmap) => {
    kept.set(key, picture)
    const [oldest] = kept.keys()
    if (kept.size > KEPT && oldest !== undefined) {
      kept.get(oldest)?.close()
      kept.delete(oldest)
    }
  }

  worker.onmessage = ({ data }: MessageEvent<FromRollWorker>) => {
    if (data.type === 'failed') console.error(`Light roll: ${data.says}`)
    if (!current || data.id !== current.id) return
    const { wish, version: drawn } = current
    current = null
    if (data.type === 'failed') {
      next()
      return
    }
    // A roll of a song that has changed meanwhile is old: its line asks again by itself.
    if (drawn !== version) data.picture.close()
    else {
      keep(wish.key, data.picture)
      wish.take(data.picture)
    }
    next()
  }

  return {
    setSong(rig, show, song) {
      version += 1
      for (const picture of kept.values()) picture.close()
      kept.clear()
      wishes.clear()
      tell({ type: 'song', rig, show, song })
    },
    wish(shape, nearness, take) {
      const key = JSON.stringify(shape)
      const drawn = kept.get(key)
      if (drawn) {
        take(drawn)
        return () => {}
      }
      let wanted = true
      const wish: Wish = { key, shape, nearness, take: picture => wanted && take(picture) }
      wishes.add(wish)
      next()
      return () => {
        wanted = false
        wishes.delete(wish)
      }
    },
    waiting: () => wishes.size + (current ? 1 : 0),
    close() {
      worker.terminate()
      for (const picture of kept.values()) picture.close()
    },
  }
}
