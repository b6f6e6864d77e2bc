// What the roll worker works on: the documents as the page last sent them, and their song compiled once it is asked for.

import { songCompiler } from '@glowchart/shared/render/compile.ts'
import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { applyDiff } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { contentOf } from './content.ts'
import { drawRoll, type Pixels } from './draw.ts'
import type { RollShape, ToRollWorker } from './request.ts'

export interface Easel {
  /** Takes documents, or what changed in them; what is wrong with it is said when something is asked of it. */
  take(message: Extract<ToRollWorker, { type: 'load' | 'change' }>): void
  /** @throws CodedError when the change was of other documents, or the song cannot be compiled */
  contentOf(edges: readonly number[]): string
  /** @throws CodedError as `contentOf` does */
  draw(shape: RollShape): Pixels
}

export function createEasel(): Easel {
  let documents: () => Documents = () => {
    throw new Error('there are no documents yet')
  }
  const compile = songCompiler()
  let song = ''
  let compiled: CompiledSong | null = null
  let rate = 40

  const ready = (): CompiledSong => {
    if (compiled) return compiled
    const { rig, show } = documents()
    rate = show.output.rate
    compiled = compile(rig, show, show.tonight, song)
    return compiled
  }

  return {
    take(message) {
      compiled = null
      song = message.song
      const before = documents
      documents = once(() => {
        if (message.type === 'load') return message
        const { rig, show } = before()
        return { rig: applyDiff(rig, message.rig), show: applyDiff(show, message.show) }
      })
    },
    contentOf: edges => contentOf(ready(), edges, rate),
    draw: shape => drawRoll(ready(), rate, shape),
  }
}

/** Made when it is first asked for; what it was made from is let go then. */
function once<T>(make: () => T): () => T {
  let get = () => {
    const made = make()
    get = () => made
    return made
  }
  return () => get()
}
