// What is on the stage now as the parts of a look: the cues that hold at the playhead; where none does, the light as sent.

import { lightnessOf } from '@glowchart/shared/light/lightness.ts'
import type { Light } from '@glowchart/shared/light/schema.ts'
import { encodeSrgb } from '@glowchart/shared/light/srgb.ts'
import { fromLevels, levelPlan } from '@glowchart/shared/render/levels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import { lookAt } from '@glowchart/shared/show/look-at.ts'
import type { Look, Show } from '@glowchart/shared/show/schema.ts'
import { hexOfBytes } from '../cue/colour.ts'
import { shownDocuments } from '../document/document.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { latestFrame, levelsFor } from '../live/frames.ts'
import { songPosition } from '../transport/moves.ts'
import { playedNow } from '../version/running.ts'

/** Under this lightness (L*, 0…1) a part counts as dark. */
const DARK = 0.03

export function stageNow(): Look['parts'] {
  const documents = shownDocuments()
  const viewed = viewedSongNow()
  if (!documents || !viewed) return {}
  const { show } = documents
  const written = lookAt(show, viewed.song, viewed.timeline, songPosition())
  const played = playedNow() ?? documents
  return { ...sentLight(played.rig, played.show, written), ...written }
}

/** Flat light, as it is sent, of the parts that have no cue and share no fixture with one that has. */
function sentLight(rig: Rig, show: Show, written: Look['parts']): Look['parts'] {
  const kit = show.kits[show.tonight]
  const frame = latestFrame()
  if (!kit || !frame) return {}
  const stage = stageOf(rig, kit)
  const plan = levelPlan(rig, kit)
  const light = new Float32Array(stage.cells * 3)
  fromLevels(plan, levelsFor(plan, frame), light)
  const spoken = new Set(Object.keys(written).flatMap(part => stage.parts[part]?.fixtures ?? []))
  const parts: Record<string, Light> = {}
  for (const part of show.partOrder) {
    const fixtures = stage.parts[part]?.fixtures ?? []
    if (written[part] || fixtures.length === 0 || fixtures.some(i => spoken.has(i))) continue
    const mean = [0, 0, 0]
    let cells = 0
    for (const i of fixtures) {
      const { firstCell, cells: own } = stage.fixtures[i]!
      cells += own
      for (let at = firstCell * 3; at < (firstCell + own) * 3; at++) mean[at % 3]! += light[at]!
    }
    const flat = flatLight(mean.map(sum => sum / cells))
    if (flat) parts[part] = flat
  }
  return parts
}

function flatLight(rgb: readonly number[]): Light | null {
  const most = Math.max(...rgb)
  const level = Math.round(lightnessOf(most) * 100) / 100
  if (level < DARK) return null
  const hex = hexOfBytes(rgb.map(value => Math.round(encodeSrgb(value / most) * 255)))
  return {
    level,
    colours: { along: 'none', colour: { hex } },
    motion: plainMotion,
  }
}

/** Light that stands still. */
export const plainMotion: Light['motion'] = {
  kind: 'sustain',
  rate: { ticks: 3840 as never },
  spread: 1,
  direction: 'forward',
  duty: 0.5,
  shape: 0.5,
  floor: 0,
  by: 'fixture',
  seed: 0,
}
