// Advice on strobes that the limit of tonight's venue holds: they do not flash, and what they show instead.

import { cuePlaces, sectionAt } from '../../time/timeline.ts'
import type { Advice } from '../advice.ts'
import { barsOf, barsText, counted, listText } from '../words.ts'
import { framesSpan, type HeldSpan, type MeasuredSong } from './measured.ts'
import { movingCues } from './moving.ts'

/** Faster than the limit by more than the last bit of the arithmetic. */
const SAME = 1e-6

/** One piece of advice a stretch of bars in which strobes are held. */
export const heldAdvice = (measured: MeasuredSong): Advice[] =>
  measured.held.map(span => adviceOn(measured, span))

function adviceOn(measured: MeasuredSong, span: HeldSpan): Advice {
  const { show, song, kit, timeline } = measured
  const limit = show.kits[kit]!.venue?.strobes ?? Number.POSITIVE_INFINITY
  const { from, to } = framesSpan(measured, span)
  const here = cuePlaces(show.songs[song]!, timeline)
    .filter(p => p.at < to && p.at + p.length > from)
    .map(p => ({ section: p.sourceSection, cue: p.id }))
  const refs = [...new Map(here.map(ref => [`${ref.section} ${ref.cue}`, ref])).values()]
  const strobes = movingCues(show, song, refs).filter(
    ({ light, rate }) => light.motion.kind === 'strobe' && (limit === 'none' || rate > limit * (1 + SAME)),
  )
  const parts = [...new Set(strobes.map(({ part }) => part))]
  const names = listText(parts.map(part => show.parts[part]?.name ?? part))
  const bars = barsOf(timeline, from, to)
  const section = sectionAt(timeline, from)
  const by = limit === 'none' ? 'no strobe is allowed' : `at most ${limit} flashes a second`
  const duties = strobes.map(({ light }) => Math.round(light.motion.duty * 100))
  const [least, most] = [Math.min(...duties), Math.max(...duties)]
  const share = least === most ? `${least} %` : `${least} to ${most} %`
  return {
    kind: 'strobeHeld',
    severity: 'note',
    place: {
      song,
      ...(section && { section: section.id }),
      bars: [bars],
      ...(parts.length > 0 && { parts }),
      cues: strobes.map(({ ref }) => ref),
    },
    brief: `Strobe held, ${limit === 'none' ? 'none allowed' : `limit ${limit}/s`}`,
    says: `“${show.songs[song]!.title}”, ${barsText([bars])}: ${counted(strobes.length, 'strobe')} of ${names} ${strobes.length === 1 ? 'does' : 'do'} not flash tonight (${by}), and ${strobes.length === 1 ? 'stands' : 'stand'} steady at the mean, ${share} of the full light.`,
    remedy:
      limit === 'none'
        ? 'Nothing needs to be done. Where it looks too flat, give it another motion.'
        : `Nothing needs to be done. To see it flash, slow it to ${limit} flashes a second or fewer.`,
    source: 'tonight’s venue, as it stands with the kit',
  }
}
