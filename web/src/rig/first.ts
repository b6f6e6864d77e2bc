// The first things of a rig, and its next box: made with the values that are commonest, to be changed afterwards.

import { channelsOf } from '@glowchart/shared/rig/channels.ts'
import { freeAddress } from '@glowchart/shared/rig/patch.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Place } from '@glowchart/shared/show/fields.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { shownDocuments } from '../document/document.ts'
import { edit, editTogether } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { chooseBox } from './choice.ts'

const SOCKETS = 8
const OUTPUTS = 3 * SOCKETS

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

/**
 * Adds a box of eight sockets to the rig, at the first free address, and puts it on the stage: 12 V, 30 A, a decoder of
 * 24 channels, 6 m of 16 AWG with four conductors a socket (common practice, no source).
 */
export function addBox(place?: Place): void {
  const documents = shownDocuments()
  const kit = documents?.show.kits[documents.show.tonight]
  if (!documents || !kit) return
  const { rig, show } = documents
  const box = newId('box')
  const letter = freeLetter(rig)
  const [universe, address] = freePlace(rig, kit)
  const sockets = Array.from({ length: SOCKETS }, (_, i) => ({ id: `s${i + 1}`, label: `${i + 1}` }))
  const value = { name: `Box ${letter}`, decoder: { channels: OUTPUTS }, universe, address, sockets }
  void editTogether(`Add Box ${letter}`, [
    ['setBox', { box, value }],
    ['placeBox', { kit: show.tonight, box, place: place ?? besidePlace(kit) }],
  ])
  chooseBox(box)
}

function freeLetter(rig: Rig): string {
  const names = new Set(Object.values(rig.boxes).map(b => b.name))
  const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ']
  return letters.find(letter => !names.has(`Box ${letter}`)) ?? `${names.size + 1}`
}

/** The first universe and address with room for a box. */
function freePlace(rig: Rig, kit: Kit): [universe: number, address: number] {
  for (let universe = 1; ; universe++) {
    const address = freeAddress(rig, kit, universe, OUTPUTS)
    if (address !== null) return [universe, address]
  }
}

/** Adds a build to begin with: a tube with 1.2 m of RGB strip of 60 LEDs a metre. */
export function addFirstTube(): void {
  const value = {
    name: 'Tube, 1.2 m',
    shape: 'tube' as const,
    size: { long: 1.2, across: 0.04 },
    cells: 1,
    channels: channelsOf('rgb', 1),
    draw: { from: 'strip' as const, metres: 1.2, ledsPerMetre: 60 },
  }
  void edit('setBuild', { build: newId('build'), value })
}
