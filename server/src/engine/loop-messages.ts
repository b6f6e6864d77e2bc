// What the listening thread and the frame loop's thread say to one another.

import type { TransportState } from '@glowchart/shared/clock/transport.ts'
import type { Problem } from '@glowchart/shared/errors.ts'
import type { EngineStatus, Resume, Transport } from '@glowchart/shared/messages.ts'
import type { Check } from '@glowchart/shared/render/check.ts'
import type { CompiledTrack } from '@glowchart/shared/render/compiled.ts'
import type { House, Live, LivePatch } from '@glowchart/shared/render/live.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import type { BeatOrders } from '../understudy/beats.ts'
import type { Piece } from './player.ts'

/** A press on the transport that needs no compiling. */
export type LoopTransport = Exclude<Transport, { do: 'song' | 'look' | 'tap' }>

export type ToLoop =
  /** `at`: start there, `place` in tonight's set (a song was chosen); left out, the same song goes on where it is (an edit). */
  /** `resume`: go on where another engine would be now; `silent`: with no way out open. `mirror`: see there. */
  | {
      type: 'piece'
      piece: Piece
      at?: number
      place?: number | null
      resume?: Resume
      silent?: boolean
      mirror?: Mirror
    }
  /** Show what the other laptop shows. */
  | { type: 'mirror'; mirror: Mirror }
  /** Who drives the light: opens the ways out, or closes them and keeps in mind what they are. */
  | { type: 'stand'; stand: Stand }
  /** Heartbeats go to the other laptop, or to nobody. */
  | { type: 'beats'; orders: BeatOrders | null }
  /** The piece that plays with other tracks: those that only their id is given of are as they were. */
  | { type: 'tracks'; revision: number; tracks: readonly (CompiledTrack | string)[] }
  | { type: 'transport'; id: number; transport: LoopTransport }
  | { type: 'live'; id: number; live: LivePatch }
  | { type: 'house'; house: House }
  /** `until`: ms of the machine's monotonic clock, unless it is told again. */
  | { type: 'check'; id: number; check: Check | null; until: number }
  | { type: 'output'; id: number; output: Output }
  | { type: 'midi'; at: number; bytes: readonly number[] }
  | { type: 'frames'; on: boolean }
  | { type: 'run'; run: Run }
  /** Frames begin with the first message; this one does nothing else. */
  | { type: 'begin' }
  | { type: 'end' }

/** What the other laptop shows, on its own frame numbers. */
export interface Mirror {
  /** The frame grid: ms of this machine's monotonic clock at which its frame 0 was due; null: the grid stands. */
  origin: number | null
  rate: number
  transport: TransportState
  /** The same as if its clock were the one that this machine hears too: taken while that one is locked. */
  heard: TransportState | null
  live: Live
  house: House
}

export interface Stand {
  silent: boolean
  /** Added to every sACN priority. */
  lift: number
  /** Tonight's ways out, when they are others than those that stand. */
  output?: Output
  /** Nodes are told to forget the other source of their Art-Net. */
  alone: boolean
}

/** A run without hands: sends to `output`, plays from where the song rests, and ends after a number of frames. */
export interface Run {
  output: Output
  /** Infinity: until ended. */
  frames: number
  /** MIDI bytes by ms from the run's first frame, in order: the clock to follow; null for the internal clock. */
  midi: readonly { ms: number; bytes: readonly number[] }[] | null
}

/** The loop's share of the engine's status. */
export type LoopStatus = Omit<EngineStatus, 'pid' | 'midi' | 'version' | 'osc' | 'house' | 'understudy'>

export type FromLoop =
  | { type: 'ready' }
  | { type: 'status'; status: LoopStatus; resume: Resume }
  | { type: 'frame'; frame: Uint8Array }
  | { type: 'answer'; id: number; problem?: Problem }
  | { type: 'ended' }
