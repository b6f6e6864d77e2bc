// The countdown: what is left to the next section, in bars and beats, and what repeats before it comes.

import { barBeatAt, barStart } from '../time/meter.ts'
import { type SectionSpan, sectionAt, type Timeline } from '../time/timeline.ts'
import { type Ticks, ticks } from '../time/units.ts'

/** How a song goes on from where it is: the parts of the transport's state that tell. */
export interface Course {
  readonly loop: { readonly from: number; readonly to: number; readonly once?: boolean } | null
  readonly released: string | null
  readonly repeated: { readonly from: number; readonly times: number } | null
}

export interface Countdown {
  readonly section: SectionSpan
  /** 1-based bar of the section, and 1-based beat of that bar. */
  readonly bar: number
  readonly beat: number
  /** Beats of the bar, in its meter's unit. */
  readonly beats: number
  /** Left to the section's end: whole bars after this one, and beats of this one with the one that sounds. */
  readonly left: { readonly bars: number; readonly beats: number }
  /** Which time it is played, from 1, while it repeats until it is left; null where the song goes on by itself. */
  readonly round: number | null
  /** The section that comes at the end of this one (or of what repeats); null: the song's end. */
  readonly next: SectionSpan | null
}

/** @param at written position, ticks. Null from the song's end on. */
export function countdownAt(timeline: Timeline, at: Ticks, course: Course): Countdown | null {
  const section = sectionAt(timeline, at)
  if (!section) return null
  const { meters } = timeline
  const { bar, beat } = barBeatAt(meters, at)
  const beats = barBeatAt(meters, ticks(barStart(meters, bar + 1) - 1)).beat + 1
  const repeat = repeatAt(section, at, course)
  const times = repeat && course.repeated?.from === repeat.from ? course.repeated.times : 0
  return {
    section,
    bar: bar - section.firstBar + 1,
    beat: beat + 1,
    beats,
    left: { bars: section.firstBar + section.bars - bar - 1, beats: beats - beat },
    round: repeat?.open ? times + 1 : null,
    next: repeat?.again ?? timeline.sections[section.index + 1] ?? null,
  }
}

/** What repeats the section that sounds. `open`: until it is left; `again`: it comes once more, by itself. */
function repeatAt(
  section: SectionSpan,
  at: number,
  { loop, released }: Course,
): { from: number; open: boolean; again: SectionSpan | null } | null {
  if (loop && loop.from <= at && at < loop.to && loop.to <= section.end) {
    const again = loop.once ? section : null
    return { from: loop.from, open: !loop.once, again }
  }
  return section.vamp && released !== section.id ? { from: section.start, open: true, again: null } : null
}
