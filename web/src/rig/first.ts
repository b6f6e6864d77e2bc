// The first things of a rig, and its next box: made with the values that are commonest, to be changed afterwards.

import { newBox } from '@glowchart/shared/rig/box-new.ts'
import { newBuild } from '@glowchart/shared/rig/build-new.ts'
import type { Place } from '@glowchart/shared/show/fields.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { shownDocuments } from '../document/document.ts'
import { edit, editTogether } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { chooseBox } from './choice.ts'

/** Where a box is put that was not dragged: upstage, beside those that are out. */
const besidePlace = (kit: Kit): Place => {
  const out = Object.keys(kit.boxes).length
  const side = out % 2 === 0 ? -1 : 1
  const x = side * Math.max(0.5, kit.stage.width / 2 - 1 - Math.floor(out / 2) * 2)
  return { x: Number(x.toFixed(2)), y: Number((kit.stage.depth * 0.8).toFixed(2)), z: 0 }
}

/** Puts a box of the rig on tonight's stage. */
export function placeBox(box: string, place?: Place): void {
  const documents = shownDocuments()
  const kit = documents?.show.kits[documents.show.tonight]
  if (!documents || !kit) return
  void edit('placeBox', { kit: documents.show.tonight, box, place: place ?? besidePlace(kit) })
  chooseBox(box)
}

/** Adds a new box to the rig, at the first free address, and puts it on the stage. */
export function addBox(place?: Place): void {
  const documents = shownDocuments()
  const kit = documents?.show.kits[documents.show.tonight]
  if (!documents || !kit) return
  const box = newId('box')
  const value = newBox(documents.rig, kit)
  void editTogether(`Add ${value.name}`, [
    ['setBox', { box, value }],
    ['placeBox', { kit: documents.show.tonight, box, place: place ?? besidePlace(kit) }],
  ])
  chooseBox(box)
}

/** Adds a build to begin with: a tube with 1.2 m of RGB strip of 60 LEDs a metre. */
export const addFirstTube = (): void =>
  void edit('setBuild', { build: newId('build'), value: newBuild('tube', {}) })
