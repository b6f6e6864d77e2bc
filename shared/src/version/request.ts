// What a page asks of the show version, and what it is told: which version runs, and those before it.

import { z } from 'zod'
import type { Advice } from '../advice/advice.ts'
import { canonicalText } from '../show/canonical.ts'
import type { Documents } from '../show/edits/edit.ts'
import type { VersionChange } from './changes.ts'
import { takeSchema } from './take.ts'

const hash = z.string().regex(/^[0-9a-f]{64}$/)
const number = z.int().min(1).max(1e6)

/** `from`: the number of the version that ran when the page asked; another one by now, and the wish is refused. */
export const versionRequestSchema = z.discriminatedUnion('do', [
  /** What publishing this would do: answered by `checked`, after `checking` at once and with each song. */
  z.object({ do: z.literal('check'), take: takeSchema }),
  /** Waits no longer for the check that this page asked for; it is then answered without one. */
  z.object({ do: z.literal('leave') }),
  /** Publishes what was checked (its hash) and runs it. `despite`: though it has advice that it must not be played so. */
  z.object({ do: z.literal('publish'), take: takeSchema, hash, despite: z.boolean().default(false) }),
  /** Runs an earlier version again. */
  z.object({ do: z.literal('run'), number, from: number.nullable() }),
  /** Back to rehearsal: the draft sounds. */
  z.object({ do: z.literal('end'), from: number }),
])
export type VersionRequest = z.output<typeof versionRequestSchema>

/** A version without its documents. */
export interface VersionEntry {
  /** Counts up from 1 for every show. */
  readonly number: number
  /** ISO 8601, when it was published. */
  readonly at: string
  /** The band's name. */
  readonly name: string
  /** SHA-256 of `versionText`, hex. */
  readonly hash: string
  /** The version that ran when it was published, which going back puts back; null: none ran. */
  readonly before: number | null
  /** What changed since the one before; empty for the first. */
  readonly changes: readonly VersionChange[]
  /** The advice that stood. */
  readonly advice: readonly Advice[]
}

export type RunningVersion = VersionEntry & Documents

/** What publishing would do. */
export interface Checked {
  readonly hash: string
  readonly changes: readonly VersionChange[]
  readonly advice: readonly Advice[]
}

/** What a version's hash is made of: equal documents give equal bytes. */
export const versionText = (rig: Documents['rig'], show: Documents['show']): string =>
  canonicalText({ rig, show })

/** The version that going back from one puts back: the one that ran before it, or else the next older; null: none is left. */
export function backFrom(running: VersionEntry, versions: readonly VersionEntry[]): VersionEntry | null {
  const older = versions.filter(({ number }) => number < running.number)
  return older.find(({ number }) => number === running.before) ?? older[0] ?? null
}
