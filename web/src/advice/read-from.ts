// What advice on a song is read from: as long as these values are the same, it need not be read again.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

/** The values that advice on a song (null: on the stage) comes from: the same ones give the same advice. */
export function readFrom({ rig, show }: Documents, song: string | null): readonly unknown[] {
  const both = [rig.builds, rig.boxes, show.kits[show.tonight], show.parts, show.partOrder]
  if (song === null) return [...both, rig.fixtures, ...Object.values(show.songs).map(s => s.tracks)]
  return [...both, lightsOf(rig.fixtures), show.songs[song], show.looks, show.swatches, show.output.rate]
}

const lights = new WeakMap<Rig['fixtures'], string>()

/** Which fixtures there are, and of which build: a line check or a fault changes no song. */
function lightsOf(fixtures: Rig['fixtures']): string {
  let text = lights.get(fixtures)
  if (text === undefined) {
    text = JSON.stringify(Object.entries(fixtures).map(([id, { name, build }]) => [id, name, build]))
    lights.set(fixtures, text)
  }
  return text
}

export const isSame = (a: readonly unknown[] | undefined, b: readonly unknown[]): boolean =>
  a?.length === b.length && b.every((value, i) => value === a[i])
