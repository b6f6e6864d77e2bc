// Rounds of kill -9 against the real server: edits over its live socket, a process killed at any moment, and then what is on the disk.

import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { hashOf } from '@glowchart/server/app/journal.ts'
import { canonicalText, canonicalWriter } from '@glowchart/shared/show/canonical.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { textOnDisk } from '../support/on-disk.ts'
import { random } from '../support/random.ts'
import { type Editor, openEditor } from './editor.ts'
import { startVictim, type Target, type Victim } from './victim.ts'

export interface KillFigures {
  rounds: Record<Target, number>
  acknowledged: number
  /** Edits that nobody had been promised, and that were there all the same. */
  beyond: number
  /** Files of earlier versions that were read. */
  versions: number
  /** Damaged show files in whose place an earlier version was opened. */
  restored: number
}

/** A round that takes longer has hung. */
const MOST_MS = 300_000
/** The server writes its files when no edit has come for this long: the moment is killed at too. */
const IDLE_MS = 1000
/** A process that another one starts again costs the least time; each is killed often enough. */
const shares: readonly [Target, number][] = [
  ['app', 0.4],
  ['engine', 0.6],
  ['supervisor', 0.8],
  ['tree', 1],
]
const chosenTarget = (chance: number): Target => shares.find(([, below]) => chance < below)![0]
const parse = { rig: parseRig, show: parseShow }

/** @throws Error that names the seed of the round, and says what was lost */
export async function killRounds(
  seeds: readonly number[],
  { only, told = () => {} }: { only?: readonly Target[]; told?: (round: number) => void } = {},
): Promise<KillFigures> {
  const figures: KillFigures = {
    rounds: { app: 0, engine: 0, supervisor: 0, tree: 0 },
    acknowledged: 0,
    beyond: 0,
    versions: 0,
    restored: 0,
  }
  const victim = await startVictim()
  try {
    let stage = ''
    const round = roundsOn(victim, figures, now => {
      stage = now
    })
    for (const [i, seed] of seeds.entries()) {
      const limit = AbortSignal.timeout(MOST_MS)
      const hung = new Promise<never>((_, reject) => {
        limit.addEventListener('abort', () => reject(new Error('the round has hung')))
      })
      try {
        await Promise.race([round(seed, only?.[i % only.length]), hung])
      } catch (error) {
        const says = `seed ${seed}: ${(error as Error).message} (${stage}); at ${victim.url}: ${victim.state()}`
        throw new Error(says, { cause: error })
      }
      told(i + 1)
    }
    return figures
  } finally {
    victim.remove()
  }
}

function roundsOn(
  victim: Victim,
  figures: KillFigures,
  at: (stage: string) => void,
): (seed: number, target?: Target) => Promise<void> {
  const write = canonicalWriter()
  /** Hashes of every document that there ever was. */
  const ever = new Set<string>()
  const seen = new Set<string>()
  let possible: readonly Documents[] | null = null
  /** The app and the engine go on without their supervisor, some rounds long. */
  let orphaned = false

  return async (seed, only) => {
    const next = random(seed)
    const target = only ?? chosenTarget(next())
    at(`${target}: before`)
    if (target === 'supervisor' && orphaned) await start()
    const editor = await connected(victim, next)
    found(editor)
    at(`${target}: edits`)
    await editUntilKilled(editor, () => victim.kill(target), next)
    possible = editor.possible
    for (const documents of editor.asked) remember(documents)
    figures.acknowledged += editor.acknowledged
    figures.rounds[target]++
    at(`${target}: killed`)
    if (target === 'app' || target === 'tree') await editor.gone
    editor.close()
    if (target === 'tree' && next() < 0.3) spoilShow()
    if (target === 'supervisor') orphaned = true
    else if (target === 'tree' || (target === 'app' && orphaned)) await start()
    at(`${target}: started again`)
    const after = await connected(victim, next)
    found(after)
    after.close()
    look()
  }

  function remember({ rig, show }: Documents): void {
    ever.add(hashOf(write(rig)))
    ever.add(hashOf(write(show)))
  }

  /** The documents that the server has now must be what it has promised, or something asked for since. */
  function found(editor: Editor): void {
    const [has] = editor.possible as [Documents]
    const text = write(has.rig) + write(has.show)
    const at = possible?.findIndex(({ rig, show }) => write(rig) + write(show) === text) ?? 0
    if (at < 0)
      throw new Error(`an acknowledged edit is lost: the server has none of ${possible!.length} states`)
    figures.beyond += at
    possible = [has]
    remember(has)
  }

  async function start(): Promise<void> {
    await victim.start()
    orphaned = false
  }

  /** Half of the show's file is gone, as if by a bad disk: the newest earlier version must open, and be one that was. */
  function spoilShow(): void {
    const [name] = readdirSync(join(victim.data, 'shows')).filter(file => /^[^.].*\.json$/.test(file))
    const path = join(victim.data, 'shows', name!)
    const kept = readdirSync(join(victim.data, 'versions', 'shows', name!.slice(0, -5))).sort()
    if (kept.length === 0) return
    const text = readFileSync(path, 'utf8')
    // In the place of it, and not in it: one killed between the two has the same file as a version.
    rmSync(path)
    writeFileSync(path, text.slice(0, text.length / 2))
    const newest = readFileSync(
      join(victim.data, 'versions', 'shows', name!.slice(0, -5), kept.at(-1)!),
      'utf8',
    )
    const show = parseShow(JSON.parse(newest), kept.at(-1)!)
    possible = possible!.map(({ rig }) => ({ rig, show }))
    figures.restored++
  }

  /** What is on the disk is what the server has; every file loads, and was once. */
  function look(): void {
    const [has] = possible!
    for (const kind of ['rig', 'show'] as const) {
      if (textOnDisk(victim.data, kind) !== write(has![kind]))
        throw new Error(`the ${kind} on the disk is another`)
      const place = join(victim.data, 'versions', `${kind}s`, has![kind].id)
      for (const name of versionsAt(place)) {
        const path = join(place, name)
        if (seen.has(path)) continue
        seen.add(path)
        figures.versions++
        const text = canonicalText(parse[kind](JSON.parse(readFileSync(path, 'utf8')), path))
        if (!ever.has(hashOf(text))) throw new Error(`the version ${path} never was`)
      }
    }
  }
}

function versionsAt(place: string): string[] {
  try {
    return readdirSync(place)
  } catch {
    return []
  }
}

/** Edits, some of them at once, and the kill in the midst of them, or while the files are written after them. */
async function editUntilKilled(editor: Editor, kill: () => void, next: () => number): Promise<void> {
  const count = 1 + Math.floor(next() * 30)
  const atOnce = 1 + Math.floor(next() * 6)
  const afterwards = next() < 0.25
  const killAt = Math.floor(next() * count)
  const delay = next() * 12
  let sent = 0
  let killing: Promise<void> | undefined
  const hand = async (): Promise<void> => {
    while (sent < count) {
      if (sent++ === killAt && !afterwards) killing = sleep(delay).then(() => kill())
      if (!(await editor.edit())) return
    }
  }
  await Promise.all(Array.from({ length: atOnce }, hand))
  if (afterwards) killing = sleep(IDLE_MS - 60 + next() * 150).then(() => kill())
  await killing
}

/** A page at the server, as soon as it is up. */
async function connected(victim: Victim, next: () => number): Promise<Editor> {
  for (;;) {
    try {
      return await openEditor(victim.url, next)
    } catch {
      await sleep(20)
    }
  }
}
