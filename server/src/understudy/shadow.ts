// The part of the one that follows: keeps the other's show, goes as its heartbeats go, and compares its frames.

import type { LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import type { Beat, Comparison } from '@glowchart/shared/understudy/beat.ts'
import type { Kept } from '@glowchart/shared/understudy/channel.ts'
import type { PairSide } from '../engine/pair-side.ts'
import { comparer } from './compare.ts'
import { type Fetched, fetching } from './fetching.ts'
import { mirrorOf, outputHere } from './follow.ts'
import { theirFrames } from './their-frames.ts'

/** Heartbeats in a row that our loop may be elsewhere. */
const MOST_STRAYS = 3

export interface Shadow {
  /** The show of the one that leads is held, this version of it or the last. */
  readonly holds: boolean
  /** Why its show does not come; empty when it does. */
  readonly fault: string
  /** A heartbeat that came at `at`, ms; `content` is what is held here. */
  follow(beat: Beat, at: number, content: string): Comparison | null
  /** Nothing counts that was heard before: another one leads. */
  forget(): void
  stop(): void
}

export interface ShadowOptions {
  dataFolder: string
  pair: PairSide
  interfaces: () => LocalInterface[]
  kept(): Kept
  isFollowing(): boolean
  /** Its show is held now. */
  adopted(): void
}

export function shadowOf({
  dataFolder,
  pair,
  interfaces,
  kept,
  isFollowing,
  adopted,
}: ShadowOptions): Shadow {
  let theirs: Pick<Fetched, 'content' | 'outputHash'> | null = null
  let fault = ''
  let mirrored = ''
  let strays = 0
  let frames = theirFrames()
  const compare = comparer()
  const show = fetching(dataFolder, kept, adopt, says => {
    fault = says
  })

  function adopt({ documents, output, content, outputHash }: Fetched): void {
    if (!isFollowing()) return
    theirs = { content, outputHash }
    pair.adopt(documents)
    pair.stand({ silent: true, lift: 0, alone: false, output: outputHere(output, interfaces()) })
    mirrored = ''
    adopted()
  }

  /** Our loop is told whenever theirs changes, and when it has strayed. */
  function mirror(beat: Beat, at: number): void {
    const origin = frames.heard(beat.frame, beat.rate, beat.age, at, beat.trip)
    const next = mirrorOf(beat, origin, pair.piece)
    const text = JSON.stringify([next.transport, next.heard, next.live, next.house])
    const own = pair.transport
    strays = own !== null && own.song !== beat.transport.song ? strays + 1 : 0
    if (origin === null && text === mirrored && strays < MOST_STRAYS) return
    strays = 0
    mirrored = text
    pair.mirror(next)
  }

  return {
    get holds() {
      return theirs !== null
    },
    get fault() {
      return fault
    },
    follow(beat, at, content) {
      const isNew = beat.content !== '' && beat.content !== theirs?.content
      if (!theirs || isNew || beat.output !== theirs.outputHash) show.wish()
      if (!theirs) return null
      mirror(beat, at)
      return compare(beat, pair.piece, content)
    },
    forget() {
      theirs = null
      mirrored = ''
      fault = ''
      frames = theirFrames()
    },
    stop: show.stop,
  }
}
