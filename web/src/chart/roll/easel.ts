// What the roll worker works on: the documents as the page last sent them, their song compiled once it is asked for, and
// the drawings that an edit may change a little.

import { songCompiler } from '@glowchart/shared/render/compile.ts'
import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { applyDiff } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { contentOf } from './content.ts'
import { blankDrawing, type Drawing, drawRoll, type Pixels } from './draw.ts'
import type { ToRollWorker, Wanted } from './request.ts'

export interface Easel {
  /** Takes documents, or what changed in them; what is wrong with it is said when something is asked of it. */
  take(message: Extract<ToRollWorker, { type: 'load' | 'change' }>): void
  /**
   * The content of each line wanted, and the pixels of the first whose content the page has not; they are the easel's,
   * and good until the next are drawn.
   * @throws CodedError when the change was of other documents, or the song cannot be compiled
   */
  draw(asked: Extract<ToRollWorker, { type: 'draw' }>): {
    contents: string[]
    drawn: { index: number; pixels: Pixels } | null
  }
}

/** Px of the drawings that are kept, about 17 bytes each: the lines that are in sight and open. */
const MOST_PIXELS = 4e6

export function createEasel(): Easel {
  let documents: () => Documents = () => {
    throw new Error('there are no documents yet')
  }
  const compile = songCompiler()
  const drawings = new Map<string, Drawing>()
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

  const drawingOf = ({ place, shape }: Wanted): Drawing => {
    const drawing = drawings.get(place) ?? blankDrawing(shape)
    drawings.delete(place)
    drawings.set(place, drawing)
    let pixels = 0
    for (const { width, height } of drawings.values()) pixels += width * height
    for (const [old, { width, height }] of drawings) {
      if (pixels <= MOST_PIXELS || old === place) break
      drawings.delete(old)
      pixels -= width * height
    }
    return drawing
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
    draw({ wanted, inSight }) {
      const light = ready()
      const contents = wanted.map(({ shape }) => contentOf(light, shape.edges, rate))
      const index = wanted.findIndex(({ has }, i) => !has.includes(contents[i]!))
      if (index < 0) return { contents, drawn: null }
      const first = wanted[index]!
      const pixels = inSight ? drawingOf(first) : blankDrawing(first.shape)
      drawRoll(pixels, light, rate, first.shape)
      return { contents, drawn: { index, pixels } }
    },
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
