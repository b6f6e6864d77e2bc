// Every sheet there is for a show: its entry in the list, and how it is made.

import type { PaperContext } from './context.ts'
import type { Sheet } from './sheet.ts'
import { buildSheetOf } from './sheets/BuildSheets.tsx'
import { cueSheetOf } from './sheets/CueSheet.tsx'
import { houseSheetOf } from './sheets/HouseSheet.tsx'
import { labelSheetOf } from './sheets/LabelSheet.tsx'
import { packSheetOf } from './sheets/PackSheet.tsx'
import { patchSheetOf } from './sheets/PatchSheet.tsx'
import { setListSheetOf } from './sheets/SetListSheet.tsx'
import { stageSheetOf } from './sheets/StageSheet.tsx'

export interface Entry {
  readonly id: string
  readonly name: string
  /** Under which heading of the list. */
  readonly group: string
  readonly make: (context: PaperContext) => Sheet
}

const STAGE = 'For the stage'
const fixed: readonly Entry[] = [
  { id: 'patch', name: 'Patch sheet', group: STAGE, make: patchSheetOf },
  { id: 'stage', name: 'Stage plan', group: STAGE, make: stageSheetOf },
  { id: 'labels', name: 'Labels', group: STAGE, make: labelSheetOf },
  { id: 'pack', name: 'Pack list', group: STAGE, make: packSheetOf },
  { id: 'house', name: 'For the house', group: STAGE, make: houseSheetOf },
]

/** In the order of the list: those of the stage, set lists, cue sheets, build sheets. */
export function entriesOf({ rig, show }: PaperContext): Entry[] {
  return [
    ...fixed,
    ...Object.entries(show.setLists).map(([id, list]) => ({
      id: `set ${id}`,
      name: list.name,
      group: 'Set lists',
      make: (context: PaperContext) => setListSheetOf(context, id),
    })),
    ...show.songOrder.map(id => ({
      id: `cue ${id}`,
      name: show.songs[id]!.title,
      group: 'Cue sheets',
      make: (context: PaperContext) => cueSheetOf(context, id),
    })),
    ...Object.entries(rig.builds).map(([id, build]) => ({
      id: `build ${id}`,
      name: build.name,
      group: 'Build sheets',
      make: (context: PaperContext) => buildSheetOf(context, id),
    })),
  ]
}

/** All sheets of a group are printed together under its heading's id. */
export const groupId = (group: string): string => `all ${group}`

/** The sheets behind an entry of the list, or behind a whole group of it. */
export function sheetsOf(context: PaperContext, id: string): Sheet[] {
  return entriesOf(context)
    .filter(entry => entry.id === id || groupId(entry.group) === id)
    .map(entry => entry.make(context))
}
