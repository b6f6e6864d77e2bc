// What a preflight judges: what will play. The version that runs, with the newest word on its lights; else the draft.

import type { Advice } from '../advice/advice.ts'
import { faultsAdvice } from '../advice/faults.ts'
import type { Rig } from '../rig/schema.ts'
import { stageOf } from '../rig/stage.ts'
import type { Documents } from '../show/edits/edit.ts'
import type { RunningVersion, VersionEntry } from '../version/request.ts'

export interface Judged extends Documents {
  /** Null while it is read. */
  readonly stage: readonly Advice[] | null
  /** By song; a song that is left out has not been read yet. */
  readonly songs: Readonly<Record<string, readonly Advice[]>>
  /** Which version they are; null: the draft, for none runs. */
  readonly running: Pick<VersionEntry, 'number' | 'at' | 'hash'> | null
}

/**
 * A version was read as it was published, so all of its advice is there at once. Faults and line checks are the lights'
 * own and no part of what plays: those are the draft's, where they are written down.
 */
export function judgedVersion(running: RunningVersion, draft: Rig): Judged {
  const { show, advice } = running
  const rig = withFindings(running.rig, draft)
  const ofStage = advice.filter(({ kind, place }) => place.song === undefined && kind !== 'openFault')
  return {
    rig,
    show,
    stage: [...ofStage, ...faultsAdvice(rig, stageOf(rig, show.kits[show.tonight]!))],
    songs: Object.fromEntries(
      show.songOrder.map(song => [song, advice.filter(({ place }) => place.song === song)]),
    ),
    running,
  }
}

/** The rig with the faults and line checks of another one's lights; the same object where they are the same. */
function withFindings(rig: Rig, { fixtures }: Rig): Rig {
  const entries = Object.entries(rig.fixtures).map(([id, fixture]) => {
    const newest = fixtures[id]
    if (!newest || newest === fixture) return [id, fixture] as const
    const { checked: _, ...rest } = fixture
    return [
      id,
      { ...rest, faults: newest.faults, ...(newest.checked && { checked: newest.checked }) },
    ] as const
  })
  return entries.every(([id, fixture]) => fixture === rig.fixtures[id])
    ? rig
    : { ...rig, fixtures: Object.fromEntries(entries) }
}

/** Which one was judged, in a line. */
export const judgedWords = ({ running }: Pick<Judged, 'running'>): string =>
  running
    ? `Judged: version ${running.number} (${running.hash.slice(0, 8)}), which plays. What you mend here changes the draft; take it in afterwards.`
    : 'Judged: the draft, which plays.'
