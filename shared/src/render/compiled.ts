// What compileSong makes and renderLight reads: plain data that can be cloned to another thread.

import type { MotionKind } from '../light/schema.ts'
import type { PowerLimit } from '../power/limit.ts'
import type { Stage } from '../rig/stage.ts'
import type { Curve, Track } from '../show/song.ts'
import type { Timeline } from '../time/timeline.ts'
import type { Layout } from './motion/layout.ts'
import type { VenueLimits } from './venue.ts'

/** A fade in ticks; `length` 0 is none. `cut`: ticks of it that lie outside the cue. */
export interface CompiledFade {
  readonly length: number
  readonly cut: number
  readonly curve: Curve
}

/** One cue, all links resolved. Positions are in ticks of the song. */
export interface CompiledCue {
  readonly start: number
  /** Infinity for a look that stands. */
  readonly end: number
  readonly fadeIn: CompiledFade
  readonly fadeOut: CompiledFade
  /**
   * `alone`, or what happens with earlier cues of its track that still run: `crossfade` until `crossfadeEnd`, when it
   * outlasts them; `over` them by its own fades, when it does not.
   */
  readonly overlap: 'alone' | 'crossfade' | 'over'
  readonly crossfadeEnd: number
  readonly crossfadeCurve: Curve
  /** Factor on the points, or the level itself; 0…1. */
  readonly level: number
  /** Points of the level, in ticks of the song; empty when it is constant. */
  readonly pointAt: Float64Array
  readonly pointLevel: Float64Array
  readonly along: 'none' | 'part' | 'time' | 'motion'
  /** One colour, or a `gradientTable`. */
  readonly gradient: Float32Array
  /** Ticks that a gradient over time takes. */
  readonly gradientLength: number
  readonly kind: MotionKind
  /** Where motion and gradients begin, in ticks, and that in seconds of the song. */
  readonly origin: number
  readonly originSeconds: number
  /** Ticks a cycle, or 0 where `hz` is the rate. */
  readonly period: number
  readonly hz: number
  readonly spread: number
  /** Index into `Layout.x`. */
  readonly direction: 0 | 1 | 2 | 3
  readonly duty: number
  readonly shape: number
  readonly floor: number
  readonly byCell: boolean
  readonly seed: number
  /** Values that the motion takes over a cycle and the share of it that each has, in turn; empty where there is no mean. */
  readonly mean: Float64Array
}

/** A cue track: its cues by start, with what a search needs in arrays of its own. */
export interface CompiledTrack {
  readonly id: string
  /** Index into `CompiledSong.parts`. */
  readonly part: number
  readonly merge: Track['merge']
  readonly cues: readonly CompiledCue[]
  readonly start: Float64Array
  /** The latest end of this cue and all before it. */
  readonly reach: Float64Array
}

export interface CompiledPart {
  readonly id: string
  /** The stage's cells, in the part's order. */
  readonly cells: Int32Array
  readonly fixtureLayout: Layout
  readonly cellLayout: Layout
}

export interface CompiledSong {
  readonly stage: Stage
  readonly timeline: Timeline
  readonly parts: readonly CompiledPart[]
  /** In the order in which they merge; muted ones are left out. */
  readonly tracks: readonly CompiledTrack[]
  /** Null when no box of the kit has its power limit armed. */
  readonly power: PowerLimit | null
  readonly venue: VenueLimits
}
