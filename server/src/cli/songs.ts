// `songs`: what a show holds, for people and for scripts.

import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { bundleOf, optionsOf } from './arguments.ts'

export async function songs(words: string[]): Promise<number> {
  const { file, values } = optionsOf(words, { json: { type: 'boolean' } })
  const { rig, show } = await bundleOf(file!)
  const listed = show.songOrder.map(id => {
    const song = show.songs[id]!
    const timeline = timelineOf(song)
    const last = timeline.sections.at(-1)
    return {
      title: song.title,
      bars: last ? last.firstBar + last.bars : 0,
      seconds: Math.round(secondsAt(timeline.tempo, timeline.length) * 1000) / 1000,
      bpm: song.bpm,
      meter: `${song.meter.beats}/${song.meter.unit}`,
    }
  })
  if (values.json) {
    const kits = Object.entries(show.kits).map(([id, kit]) => ({
      name: kit.name,
      tonight: id === show.tonight,
    }))
    process.stdout.write(
      `${JSON.stringify({ show: show.name, rig: rig.name, songs: listed, kits }, null, 2)}\n`,
    )
  } else {
    for (const song of listed) process.stdout.write(`${song.title}\n`)
  }
  return 0
}
