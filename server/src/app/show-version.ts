// The show version: what was published on purpose and runs, while the draft is edited beside it.

import { CodedError, type Problem } from '@glowchart/shared/errors.ts'
import type { EngineStatus } from '@glowchart/shared/messages.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { changesBetween } from '@glowchart/shared/version/changes.ts'
import { mixOf } from '@glowchart/shared/version/mix.ts'
import type {
  Checked,
  RunningVersion,
  VersionEntry,
  VersionRequest,
} from '@glowchart/shared/version/request.ts'
import { sharing } from '@glowchart/shared/version/sharing.ts'
import type { Take } from '@glowchart/shared/version/take.ts'
import { adviceOn, type Reading } from './advising.ts'
import type { VersionFiles } from './version-files.ts'
import { versionHash } from './version-hash.ts'

/** What stands in the engine: a version without it would throw the players out of their song. */
type Standing = Pick<EngineStatus, 'song' | 'look'>

export interface ShowVersion {
  /** What the engine plays; null: no version runs, and it plays the draft (rehearsal). */
  readonly running: RunningVersion | null
  /** All kept ones, newest first. */
  readonly versions: readonly VersionEntry[]
  readonly damaged: readonly Problem[]
  /** The show they belong to. */
  readonly of: string
  /**
   * Takes a step that a page asks for; durable when it resolves. What runs changes only after it is on the disk.
   * @throws CodedError `version.*`, `data.unwritable`; what runs has not changed
   */
  ask(request: VersionStep, standing: Standing | null): Promise<void>
  /** What publishing this would do. Null: it was left off, as `reading` said. */
  check(take: Take, reading?: Reading): Promise<Checked | null>
  /** Finds the versions of the show that is open now. */
  follow(): Promise<void>
  /** `listener` is called when another version runs, or none any more. */
  listen(listener: () => void): void
}

type VersionStep = Exclude<VersionRequest, { do: 'check' | 'leave' }>

interface Options {
  files: VersionFiles
  /** The draft, as it is on disk. */
  draft(): Documents
  /** Ms since 1970. */
  now?: () => number
}

/** Resolves when the versions of the open show are known. The one that ran last runs again. */
export async function openShowVersion({ files, draft, now = Date.now }: Options): Promise<ShowVersion> {
  const listeners: (() => void)[] = []
  let of = ''
  let running: RunningVersion | null = null
  let versions: readonly RunningVersion[] = []
  let damaged: readonly Problem[] = []
  let highest = 0

  async function follow(): Promise<void> {
    const { id } = draft().show
    const found = await files.find(id)
    of = id
    ;({ damaged, highest } = found)
    const now = draft()
    versions = found.versions.map(one => ({
      ...one,
      rig: sharing(one.rig, now.rig),
      show: sharing(one.show, now.show),
    }))
    // Where the one that ran is damaged, the newest good one before it.
    const { ran } = found
    running = ran === null ? null : (versions.find(({ number }) => number <= ran) ?? null)
  }

  function mixed(take: Take): Omit<Checked, 'advice'> & { documents: Documents } {
    const documents = running ? mixOf(running, draft(), take) : draft()
    return {
      documents,
      hash: versionHash(documents.rig, documents.show),
      changes: versions[0] ? changesBetween(running ?? versions[0], documents) : [],
    }
  }

  /** It changes nothing, and may take a while: nobody waits behind it. */
  async function check(take: Take, reading: Reading = {}): Promise<Checked | null> {
    const { documents, ...rest } = mixed(take)
    try {
      return { ...rest, advice: await adviceOn(documents, reading) }
    } catch (error) {
      if (reading.signal?.aborted) return null
      throw error
    }
  }

  async function publish(
    { take, hash, despite }: Extract<VersionRequest, { do: 'publish' }>,
    standing: Standing | null,
  ): Promise<void> {
    const { documents, ...rest } = mixed(take)
    if (rest.hash !== hash) throw changed('the draft has changed since it was looked at')
    if (running?.hash === hash)
      throw new CodedError('version.same', `version ${running.number} is the same already`, running.name)
    requireStanding(documents, standing)
    const advice = await adviceOn(documents)
    const stops = advice.filter(({ severity }) => severity === 'stop')
    if (stops.length > 0 && !despite)
      throw new CodedError('version.stops', `must not be played so: ${stops[0]!.says}`, documents.show.name)
    const version: RunningVersion = {
      number: highest + 1,
      at: new Date(now()).toISOString(),
      name: documents.show.name,
      before: running?.number ?? null,
      ...rest,
      advice,
      ...documents,
    }
    await files.keep(version)
    highest = version.number
    await run(version, [version, ...versions])
  }

  async function runAgain(
    { number, from }: Extract<VersionRequest, { do: 'run' }>,
    standing: Standing | null,
  ): Promise<void> {
    requireFrom(from)
    const version = versions.find(one => one.number === number)
    if (!version) throw new CodedError('version.unknown', `there is no version ${number}`, of)
    requireStanding(version, standing)
    await run(version, versions)
  }

  async function run(version: RunningVersion, all: readonly RunningVersion[]): Promise<void> {
    await files.sayRuns(of, version.number)
    running = version
    const left = await files.prune(of, all, version)
    versions = all.filter(({ number }) => left.includes(number))
    for (const listener of listeners) listener()
  }

  async function end(from: number, standing: Standing | null): Promise<void> {
    requireFrom(from)
    requireStanding(draft(), standing)
    await files.sayRuns(of, null)
    running = null
    for (const listener of listeners) listener()
  }

  const changed = (says: string) => new CodedError('version.changed', says, of)

  function requireFrom(from: number | null): void {
    const number = running?.number ?? null
    if (from === number) return
    throw changed(number === null ? 'no version runs any more' : `version ${number} runs by now`)
  }

  /** One at a time: a wish must not rest on what another is about to change. */
  let last: Promise<unknown> = Promise.resolve()
  function inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = last.then(work)
    last = mine.catch(() => {})
    return mine
  }

  function ask(request: VersionStep, standing: Standing | null): Promise<void> {
    switch (request.do) {
      case 'publish':
        return inTurn(() => publish(request, standing))
      case 'run':
        return inTurn(() => runAgain(request, standing))
      case 'end':
        return inTurn(() => end(request.from, standing))
    }
  }

  await follow()
  return {
    get running() {
      return running
    },
    get versions() {
      return versions.map(({ rig: _rig, show: _show, ...entry }) => entry)
    },
    get damaged() {
      return damaged
    },
    get of() {
      return of
    },
    ask,
    check,
    follow: () => inTurn(follow),
    listen(listener) {
      listeners.push(listener)
    },
  }
}

function requireStanding({ show }: Documents, standing: Standing | null): void {
  const { song = null, look = null } = standing ?? {}
  const isThere = (song === null || show.songs[song]) && (look === null || show.looks[look])
  if (isThere) return
  throw new CodedError('version.stands', 'what stands on the stage now is not in it', show.name)
}
