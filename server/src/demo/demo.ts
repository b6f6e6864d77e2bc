// The demo that comes with Glowchart: an invented band, its rig and its show of four songs.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import { SHOW_FORMAT, SHOW_VERSION, type Show } from '@glowchart/shared/show/schema.ts'
import { kits } from './kits.ts'
import { looks } from './looks.ts'
import { parts } from './parts.ts'
import { rig } from './rig.ts'
import { scored } from './score.ts'
import { drawersScore } from './scores/drawers.ts'
import { ferryScore } from './scores/ferry.ts'
import { porchlightScore } from './scores/porchlight.ts'
import { saltScore } from './scores/salt.ts'
import { drawers } from './songs/drawers.ts'
import { ferry } from './songs/ferry.ts'
import { porchlight } from './songs/porchlight.ts'
import { salt } from './songs/salt.ts'
import { swatches } from './swatches.ts'

const songs = {
  porchlight: scored(porchlight, porchlightScore),
  salt: scored(salt, saltScore),
  drawers: scored(drawers, drawersScore),
  ferry: scored(ferry, ferryScore),
}

const show = {
  format: SHOW_FORMAT,
  version: SHOW_VERSION,
  id: 'department-of-oh',
  name: 'The Provincial Department of Oh',
  rig: rig.id,
  tonight: 'full',
  kits,
  parts,
  partOrder: Object.keys(parts),
  swatches,
  looks,
  songs,
  songOrder: Object.keys(songs),
  setLists: {
    short: {
      name: 'Short set, a quarter of an hour',
      songs: [
        { song: 'porchlight', note: 'Straight in, no hello.' },
        { song: 'salt', before: 'smallMoon', note: 'Piano has to be tuned to the room first; talk.' },
        { song: 'drawers', note: 'Capo 2. Count it in loud.' },
        { song: 'ferry', note: 'Vamp till the bass player is back from the harbour.' },
      ],
      walkIn: 'porchLamps',
      end: 'landingLights',
      house: 'porchLamps',
    },
  },
  tonightList: 'short',
  output: {},
}

/** A new copy of the demo, read through the same door as any file. */
export const demoBundle = (): { rig: Rig; show: Show } => ({
  rig: parseRig(rig, 'demo (rig)'),
  show: parseShow(show, 'demo (show)'),
})
