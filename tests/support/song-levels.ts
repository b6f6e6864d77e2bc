// The levels of every frame of a song, rendered from the files that a server has on its disk.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { textOnDisk } from './on-disk.ts'

/** The one show in a server's folder. */
export function showOnDisk(data: string): Show {
  return parseShow(JSON.parse(textOnDisk(data, 'show')), data)
}

/** Frame after frame, 512 bytes a universe. @param title of the song */
export function levelsOnDisk(data: string, title: string): { frames: number; levels: Uint8Array } {
  const rig = parseRig(JSON.parse(textOnDisk(data, 'rig')), data)
  const show = showOnDisk(data)
  const id = show.songOrder.find(song => show.songs[song]!.title === title)
  if (id === undefined) throw new Error(`no song called ${title} on the disk`)
  const song = compileSong(rig, show, show.tonight, id)
  const plan = levelPlan(rig, show.kits[show.tonight]!)
  const { rate } = show.output
  const size = plan.universes.length * 512
  const frames = Math.ceil(secondsAt(song.timeline.tempo, song.timeline.length) * rate)
  const levels = new Uint8Array(frames * size)
  const live = freshLive()
  const scratch = renderScratch(song)
  const light = new Float32Array(song.stage.cells * 3)
  for (let n = 0; n < frames; n++) {
    const span = frameSpan(song, n, rate)
    renderLight(song, span.from, span.to, live, scratch, light)
    applyLimits(song, live, light)
    toLevels(plan, light, levels.subarray(n * size, (n + 1) * size))
  }
  return { frames, levels }
}
