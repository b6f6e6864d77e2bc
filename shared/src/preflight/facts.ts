// What a preflight is judged from: documents, advice, the engine's word, what the server and the page could find out.

import type { Role } from '../access/role.ts'
import type { Problem } from '../errors.ts'
import type { EngineStatus, Network } from '../messages.ts'
import type { Documents } from '../show/edits/edit.ts'
import type { Input } from '../trigger/trigger.ts'
import type { Judged } from './judged.ts'

/** A recording in the data folder. `damaged`: its bytes are not those that were taken in. */
export interface RecordingFact {
  readonly file: string
  readonly state: 'whole' | 'missing' | 'damaged'
}

/** What the server finds when it is asked: on its disk, and on its sockets. */
export interface ServerFacts {
  /** Its wall clock, ms since 1970, and minutes that its local time is ahead of UTC. */
  readonly at: number
  readonly offset: number
  readonly folder: string
  readonly disk: {
    /** Why a file could not be written and read back; empty when it could. */
    readonly says: string
    /** Bytes that are free; null when the system does not tell. */
    readonly free: number | null
  }
  /** Files that cannot be read, and files that were found damaged since the server was started. */
  readonly unreadable: readonly Problem[]
  readonly recovered: readonly Problem[]
  /** How many files of shows and rigs were read. */
  readonly read: number
  readonly recordings: readonly RecordingFact[]
  /** The newest moment that a file of the data folder was written, ms since 1970. */
  readonly newest: number
  /** What was pressed at MIDI ports since the server was started, each once. */
  readonly touched: readonly Input[]
  /** The roles of the pages that are connected. */
  readonly pages: readonly Role[]
}

/** What the browser of this page knows. */
export interface PageFacts {
  /** Its wall clock, ms since 1970. */
  readonly at: number
  /** Null: it does not tell. */
  readonly battery: { readonly level: number; readonly charging: boolean } | null
  /** Whether it can keep the display awake (W3C Screen Wake Lock). */
  readonly canStayAwake: boolean
  /** The page runs on the machine that runs the lights. */
  readonly isHere: boolean
  /** Recordings that it has decoded, by file: whether it could. */
  readonly decoded: Readonly<Record<string, boolean>>
  /** Keys that asked for an action since the page was opened. */
  readonly keys: readonly string[]
}

export interface Facts extends Judged {
  /** What is edited: the same where no version runs. */
  readonly draft: Documents
  readonly status: EngineStatus | null
  readonly network: Network | null
  /** Ms of the engine's clock, for how long a node has been silent. */
  readonly engineNow: number
  /** Null before it has answered. */
  readonly server: ServerFacts | null
  readonly page: PageFacts
}
