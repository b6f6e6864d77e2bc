// Stretching cues in proportion: where they begin and end, their fades and the points of their level, all by one ratio.

import { timelineOf } from '../../time/timeline.ts'
import type { Ticks } from '../../time/units.ts'
import { id, length, ticks } from '../fields.ts'
import type { Cue, Fade } from '../song.ts'
import { inSong, songOf, withFields } from './change.ts'
import { showEdit } from './edit.ts'
import { cueOf, cueRefs, namesOf, type Placing, withCues, withoutCues } from './place.ts'

export const cueStretchEdits = {
  /**
   * Stretches cues by `to` / `from` around a place that stays, in ticks from the song's start. No cue gets shorter
   * than a tick. A motion keeps its rate: it belongs to the music.
   */
  stretchCues: showEdit(
    { song: id, cues: cueRefs, around: ticks, from: length, to: length },
    (args, show) => `Stretch ${namesOf(show, songOf(show, args.song), args.cues)}`,
    (show, { song: key, cues, around, from, to }) =>
      inSong(show, key, song => {
        const { sections } = timelineOf(song)
        const scaled = (span: number): Ticks => Math.round((span * to) / from) as Ticks
        const placings = cues.map((ref): Placing => {
          const cue = cueOf(song, ref)
          const { start } = sections.find(span => span.id === ref.section)!
          // Ends are scaled, not lengths: cues that touch go on touching.
          const at = around + scaled(start + cue.at - around)
          const end = around + scaled(start + cue.at + cue.length - around)
          const value = {
            ...stretched(cue, scaled),
            at: (at - start) as Ticks,
            length: Math.max(1, end - at) as Ticks,
          }
          return { ...ref, value }
        })
        return withCues(withoutCues(song, cues), placings)
      }),
  ),
}

function stretched(cue: Cue, scaled: (span: number) => Ticks): Cue {
  const fade = (old: Fade | undefined): Fade | undefined =>
    old && { ...old, length: scaled(old.length), cut: scaled(old.cut) }
  const faded = withFields(cue, { fadeIn: fade(cue.fadeIn), fadeOut: fade(cue.fadeOut) })
  const out = { ...faded, origin: scaled(cue.origin) }
  const { light } = cue
  if ('look' in light) return out
  const { level, colours } = light
  return {
    ...out,
    light: {
      ...light,
      level: typeof level === 'number' ? level : level.map(point => ({ ...point, at: scaled(point.at) })),
      colours:
        colours.along === 'none' || colours.length === undefined
          ? colours
          : { ...colours, length: Math.max(1, scaled(colours.length)) as Ticks },
    },
  }
}
