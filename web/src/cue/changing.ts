// Changing the light of chosen cues, as one step back: cues that come out alike together, a look's cues in the look.

import type { Light } from '@glowchart/shared/light/schema.ts'
import { editTogether, type Told } from '../document/editing.ts'
import type { Chosen } from './chosen.ts'

export type ChangeLight = (light: Light) => Light

/** @param says the change in words: "Motion of Wingbeat" @param first edits that belong to the same step */
export function changeLights(
  says: string,
  song: string,
  chosen: readonly Chosen[],
  change: ChangeLight,
  first: readonly Told[] = [],
): void {
  const own = new Map<string, { cues: Chosen['ref'][]; light: Light }>()
  const looks = new Map<string, { look: string; part: string; light: Light }>()
  for (const { ref, track, look, light: before } of chosen) {
    const light = change(before)
    const key = JSON.stringify(light)
    if (key === JSON.stringify(before)) continue
    const alike = own.get(key)
    if (look !== null) looks.set(`${look}/${track.part}`, { look, part: track.part, light })
    else if (alike) alike.cues.push(ref)
    else own.set(key, { cues: [ref], light })
  }
  void editTogether(says, [
    ...first,
    ...[...own.values()].map(({ cues, light }): Told => ['setCueLight', { song, cues, light }]),
    ...[...looks.values()].map((args): Told => ['setLookPart', args]),
  ])
}
