// The language between page, app and engine: every message, parsed once where it comes in.

import { z } from 'zod'
import { type AccessState, accessWishSchema } from './access/access.ts'
import type { Role } from './access/role.ts'
import type { Follower } from './clock/follower-state.ts'
import type { MtcFollower } from './clock/mtc-follower.ts'
import type { TimecodeRate } from './clock/timecode.ts'
import type { TransportState } from './clock/transport.ts'
import type { Problem } from './errors.ts'
import type { LocalInterface } from './network/ipv4.ts'
import type { Offer } from './recovery/kept.ts'
import { type Check, checkSchema } from './render/check.ts'
import { type House, type Live, type LivePatch, livePatchSchema } from './render/live.ts'
import type { Rig } from './rig/schema.ts'
import type { Changed } from './show/change.ts'
import type { Diff } from './show/diff.ts'
import { id } from './show/fields.ts'
import { hostSchema, type Output, outputSchema, type Route } from './show/output.ts'
import type { Show } from './show/schema.ts'
import type { Input } from './trigger/trigger.ts'
import {
  type UnderstudyRequest,
  type UnderstudyStatus,
  understudyRequestSchema,
} from './understudy/status.ts'
import {
  type Checked,
  type RunningVersion,
  type VersionEntry,
  versionRequestSchema,
} from './version/request.ts'

// ── What moves the song ───────────────────────────────────────────────────

const position = z.number().min(0).max(1e9)
const setPlace = z.int().min(0).max(9999)

/** One press on the transport. Positions are written positions in ticks from the song's start. */
export const transportSchema = z.discriminatedUnion('do', [
  /** `place`: its index in tonight's set, kept for whoever asks what comes next. */
  z.object({ do: z.literal('song'), song: id, at: position.default(0), place: setPlace.optional() }),
  /** A look of the show stands, on the internal clock, until a song is chosen. */
  z.object({ do: z.literal('look'), look: id, place: setPlace.optional() }),
  /** `after`: the song stays where it is for so many seconds more, while it is counted in. */
  z.object({ do: z.literal('play'), after: z.number().min(0).max(60).optional() }),
  z.object({ do: z.literal('stop') }),
  z.object({ do: z.literal('locate'), at: position }),
  /** Repeats [from, to) until lifted by null; `once`: lifted by itself when it has gone back. */
  z.object({
    do: z.literal('loop'),
    span: z.object({ from: position, to: position, once: z.boolean().optional() }).nullable(),
  }),
  /** Leaves the vamp that is playing at its next end. */
  z.object({ do: z.literal('release') }),
  /** Factor on the song's tempo while the internal clock runs; 1 is as written. */
  z.object({ do: z.literal('speed'), factor: z.number().min(0.25).max(4) }),
  /** One tap of the tempo, `at` ms of the engine's clock (now, where left out): from the third on they set the speed. */
  z.object({ do: z.literal('tap'), at: z.number().optional() }),
  /** Moves what runs on our own clock by so many ms of its own time: on, or back. */
  z.object({ do: z.literal('nudge'), ms: z.number().min(-500).max(500) }),
  z.object({ do: z.literal('clock'), source: z.enum(['internal', 'midi', 'mtc']) }),
])
export type Transport = z.infer<typeof transportSchema>

/** MIDI bytes with the time they arrived, in ms of the clock named by the sender (see `clockPing`). */
export const midiInSchema = z.object({
  port: z.string().max(120),
  at: z.number(),
  bytes: z.array(z.int().min(0).max(255)).max(4096),
})
export type MidiIn = z.infer<typeof midiInSchema>

/**
 * Which MIDI ports of the server the clock comes from and goes to. By name; null: from the first that speaks, to none.
 * Kept with the installation: ports belong to the computer that they are plugged into, neither to a show that travels
 * nor to a browser that may be any phone's.
 */
export const midiChoiceSchema = z.object({
  clockFrom: z.string().max(120).nullable(),
  clockTo: z.string().max(120).nullable(),
})
export type MidiChoice = z.infer<typeof midiChoiceSchema>

/** Art-Net nodes are asked for: those of all networks, and those at single addresses. */
export const discoverSchema = z.object({
  everywhere: z.boolean().default(true),
  hosts: z.array(hostSchema).max(64).default([]),
})
export type Discover = z.infer<typeof discoverSchema>

// ── Page → app (JSON over the live socket) ────────────────────────────────

export const pageMessageSchema = z.discriminatedUnion('type', [
  /** An edit by name (see `show/edits`); `seq` comes back in `done` or `refused`. */
  z.object({ type: z.literal('edit'), seq: z.int(), edit: z.string().max(60), args: z.unknown() }),
  /** Takes back (or does again) one of the sender's own edits, by its revision. */
  z.object({ type: z.literal('undo'), seq: z.int(), revision: z.int() }),
  z.object({ type: z.literal('transport'), seq: z.int(), transport: transportSchema }),
  z.object({ type: z.literal('live'), seq: z.int(), live: livePatchSchema }),
  /** Choose tonight's ways out. An empty list of routes is silence. Never saved by itself; see the edit `setOutput`. */
  z.object({ type: z.literal('output'), seq: z.int(), output: outputSchema }),
  /**
   * The line check: holds what is on the wire, and with it says that the page is still there; to be told again well
   * within `CHECK_LASTS`. Null ends it. Either way the lights go dark afterwards, until the transport is next pressed.
   */
  z.object({ type: z.literal('check'), seq: z.int(), check: checkSchema.nullable() }),
  z.object({ type: z.literal('midiChoice'), seq: z.int(), choice: midiChoiceSchema }),
  /** Lets go of what a desk of the house holds that is no longer heard; refused while it is heard. */
  z.object({ type: z.literal('releaseHouse'), seq: z.int() }),
  /** Asks now and twice more, 2.75 s apart; `network` comes at each. */
  z.object({ type: z.literal('discover'), seq: z.int(), discover: discoverSchema }),
  /** The second laptop: see `understudy/status.ts`. */
  z.object({ type: z.literal('understudy'), seq: z.int(), understudy: understudyRequestSchema }),
  /** Publishes, takes in, goes back, ends: see `version/request.ts`. */
  z.object({ type: z.literal('version'), seq: z.int(), version: versionRequestSchema }),
  /** Frames as binary messages at the frame rate, or none. */
  z.object({ type: z.literal('frames'), on: z.boolean() }),
  /** The answer to an `offer`: brings back what was left before the restart, or puts it aside. */
  z.object({ type: z.literal('recover'), seq: z.int(), answer: z.enum(['goOn', 'fresh']) }),
  z.object({ type: z.literal('midi'), midi: midiInSchema }),
  /** Others on the network: opened, closed and given roles by the laptop's own page alone. */
  z.object({ type: z.literal('access'), seq: z.int(), access: accessWishSchema }),
  /** Answered at once by `clockPong` with both times: how a page maps its clock to the engine's. */
  z.object({ type: z.literal('clockPing'), at: z.number() }),
])
export type PageMessage = z.infer<typeof pageMessageSchema>

// ── App → page ────────────────────────────────────────────────────────────

export type AppMessage =
  | {
      type: 'hello'
      server: string
      you: string
      role: Role
      rig: Rig
      show: Show
      revision: number
      status: EngineStatus | null
    }
  /** An edit that is durable; every page applies the diff in order of revision. */
  | {
      type: 'applied'
      revision: number
      by: string
      edit: string
      says: string
      document: 'rig' | 'show'
      diff: Diff
    }
  | { type: 'done'; seq: number; revision?: number }
  | { type: 'refused'; seq: number; problem: Problem }
  | { type: 'status'; status: EngineStatus | null }
  | { type: 'network'; network: Network }
  /** After the greeting and whenever it changes: the version that runs (null: rehearsal, the draft sounds), and all kept ones, newest first. */
  | {
      type: 'version'
      running: RunningVersion | null
      versions: readonly VersionEntry[]
      /** Versions whose files are damaged: passed over, and left where they are. */
      damaged: readonly Problem[]
    }
  /** To the page that asked for one: the second laptop's user types it. */
  | { type: 'code'; code: string }
  /** How many of the songs a check has read. */
  | { type: 'checking'; seq: number; read: number; songs: number }
  /** Before the `done` of a check. */
  | { type: 'checked'; seq: number; checked: Checked }
  /** What the last start left, after the greeting and whenever it changes; null: there is nothing to go on from. */
  | { type: 'offer'; offer: Offer | null }
  /** Something was pressed at a MIDI port, whether it does anything or not: what learning listens to. */
  | { type: 'touched'; input: Input }
  /** What this page may do from now on. */
  | { type: 'role'; role: Role }
  /** To the laptop's own pages. */
  | { type: 'access'; access: AccessState }
  | { type: 'clockPong'; at: number; engine: number }
/** And binary: see `frame.ts`. */

// ── Engine ⇄ app, supervisor (over the local pipe) ────────────────────────

export type ToEngine =
  /** `version`: the hash of the published version that they are; left out: they are the draft. */
  | { type: 'load'; rig: Rig; show: Show; revision: number; version?: string }
  /** Edits of what was loaded; an engine that holds another revision answers `behind`. */
  | ({ type: 'change' } & Changed)
  /** What the engine before held; an engine that has been told better passes it over. */
  | { type: 'inherit'; rig: Rig; show: Show; revision: number; version?: string }
  | { type: 'transport'; id: number; transport: Transport }
  | { type: 'live'; id: number; live: LivePatch }
  | { type: 'output'; id: number; output: Output }
  | { type: 'check'; id: number; check: Check | null }
  | { type: 'discover'; id: number; discover: Discover }
  | { type: 'midiChoice'; id: number; choice: MidiChoice }
  | { type: 'releaseHouse'; id: number }
  | { type: 'understudy'; id: number; understudy: UnderstudyRequest }
  | { type: 'frames'; on: boolean }
  | { type: 'midi'; midi: MidiIn }
  /** What a restarted engine goes on from. */
  | { type: 'resume'; state: Resume }
  /** The supervisor's wish: what is held, every `load`, `change` and `resume`, to hand them to the next engine. */
  | { type: 'watch' }
  /** Ends the streams properly and exits. */
  | { type: 'quit' }

export type FromEngine =
  | { type: 'status'; status: EngineStatus }
  | { type: 'resume'; state: Resume }
  | { type: 'holding'; rig: Rig; show: Show; revision: number; version?: string }
  /** What it holds has been changed. */
  | ({ type: 'changed' } & Changed)
  /** A change was on top of documents that it does not hold: it needs a `load`. */
  | { type: 'behind' }
  | { type: 'frame'; frame: Uint8Array }
  | { type: 'answer'; id: number; problem?: Problem }
  | { type: 'network'; network: Network }
  /** Documents of the laptop that is followed, to be kept as they are. */
  | { type: 'adopted'; rig: Rig; show: Show }
  /** A pairing code, just made. */
  | { type: 'code'; code: string }
  | { type: 'touched'; input: Input }
  | { type: 'log'; level: 'info' | 'warn'; says: string }

/** Everything that lets a new engine go on where the old one would be now. */
export interface Resume {
  /** Frame n of the engine is due at `origin` + n / `rate` seconds (`origin` in ms of the machine's monotonic clock). */
  origin: number
  rate: number
  transport: TransportState
  live: Live
  house: House
  output: Output
  /** Last sequence numbers sent, by output and universe. */
  sequences: Record<string, number>
  /** The MIDI clock follower's whole state. */
  follower: Follower
  /** The time code follower's, and where on it the song lies. */
  timecode: TimecodePlace
}

/** A song on MIDI time code. Plain data. */
export interface TimecodePlace {
  readonly follower: MtcFollower
  /** Timecode seconds at which the song's first bar lies; null until the time runs, where nothing says it. */
  readonly origin: number | null
  /** Song seconds that loops, vamps and hands have moved it by. */
  readonly moved: number
  /** The time has been inside the song since it was chosen. */
  readonly entered: boolean
  /** Where the song stands until then, ticks. */
  readonly rest: number
}

export interface EngineStatus {
  /** The time, ms of the machine's monotonic clock, at which the song passes `position`. */
  at: number
  pid: number
  /** Of the documents that frames are rendered from; 0 without a song. */
  revision: number
  /** The hash of the published version that is held; null: the draft is, or nothing. */
  version: string | null
  song: string | null
  /** The look that stands in place of a song: it moves, though no song plays. */
  look: string | null
  /** Where in tonight's set that is, as it was last said. */
  place: number | null
  playing: boolean
  /** While the song is counted in: when it will pass its place, ms of the machine's monotonic clock. */
  starts: number | null
  /** Written position, ticks from the song's start: that of the clock at `at`, whenever the light comes to it. */
  position: number
  /** The tempo that sounds, quarter notes a minute. */
  bpm: number
  /** Its factor on the one written there: set by hand on our own clock, heard from another. */
  speed: number
  loop: { from: number; to: number; once?: boolean } | null
  /** The last repeat that went back to its start, and how many times in a row. */
  repeated: { from: number; times: number } | null
  /** Id of the vamp that will be left at its next end. */
  released: string | null
  clock: ClockStatus
  live: Live
  /** The venue's limit has lately made a strobe steady. */
  strobesHeld: boolean
  /** Ids of the boxes that their armed power limit holds back now; left out: none. */
  powerHeld?: readonly string[]
  /** `on`: a line check holds the wire; `dark`: one has ended, and nothing was pressed since. */
  check: 'off' | 'on' | 'dark'
  frames: {
    rate: number
    rendered: number
    late: number
    skipped: number
    errorP50: number
    errorP99: number
    errorMax: number
  }
  outputs: OutputStatus[]
  midi: MidiStatus
  osc: OscStatus
  house: HouseStatus
  understudy: UnderstudyStatus
}

/** What the house's desk holds over the show, and whether it is heard. */
export interface HouseStatus extends House {
  /** `lost`: it was heard and is no longer; what it held last stays until it comes back or is released by hand. */
  state: 'off' | 'waiting' | 'heard' | 'lost'
  /** The source that is listened to, or was; empty before any. */
  source: string
  /** In plain words; empty when all is well. */
  says: string
}

/** Open Sound Control as the engine hears it. */
export interface OscStatus {
  /** UDP port in use; 0: none. */
  port: number
  /** Why nothing is heard, or something was passed over, in plain words; else empty. */
  says: string
  /** The last message. */
  heard: OscHeard | null
}

export interface OscHeard {
  /** Ms of the machine's monotonic clock. */
  at: number
  /** Its sender's address. */
  from: string
  address: string
  /** Its arguments as text. */
  args: string
  /** What it did, or why nothing. */
  does: string
}

export interface MidiStatus {
  available: boolean
  /** Inputs that are open, outputs that there are. */
  ports: string[]
  outputs: string[]
  says: string
  /** The port that the clock is taken from now, of all that have spoken as one of late. */
  clockPort: string | null
  speaking: string[]
  choice: MidiChoice
}

export interface ClockStatus {
  source: 'internal' | 'midi' | 'mtc'
  /** `waiting`: nothing heard; `locking`; `locked`; `lost`: free-wheeling at the last tempo; `stopped`: by Stop. */
  lock: 'internal' | 'waiting' | 'locking' | 'locked' | 'lost' | 'stopped'
  bpm: number
  /** Pulses came, but no message has said where the song is. */
  estimated: boolean
  /** What the sender's display shows, "01:02:03:04" and its rate; only on time code, once it was heard. */
  timecode?: { label: string; rate: TimecodeRate }
  /** RMS of the phase error over the last beats, ms. */
  jitter: number
}

export interface OutputStatus {
  route: Route
  packets: number
  errors: number
  /** The last send error in plain words; empty when the last send worked. */
  says: string
}

/** What the last poll found. */
export interface Network {
  /** This computer's IPv4 addresses, loopback among them. */
  interfaces: LocalInterface[]
  nodes: FoundNode[]
  /** What keeps nodes from being found, in plain words; empty when nothing does. */
  says: string
}

export interface FoundNode {
  address: string
  /** UDP port that it takes ArtDmx at. */
  port: number
  name: string
  longName: string
  /** Output Port-Addresses it answers for. */
  portAddresses: number[]
  /** When it last answered, ms of the machine's monotonic clock; null: never, though asked by its address. */
  lastSeen: number | null
  /** It left a poll unanswered for 3 s (Art-Net 4, ArtPoll). */
  silent: boolean
  says: string
}
