// Advice on cues that stay dark because the part they are written for has no light tonight.

import type { Light } from '../light/schema.ts'
import type { Stage } from '../rig/stage.ts'
import type { Show } from '../show/schema.ts'
import type { Cue } from '../show/song.ts'
import { type CuePlace, cuePlaces, sectionAt, type Timeline, timelineOf } from '../time/timeline.ts'
import type { Advice } from './advice.ts'
import { barsOf, barsText, counted, joinedBars } from './words.ts'

/** One piece of advice a part: where its lit cues of a song are, by bars. Muted tracks and cues without light are left out. */
export function cuesAdvice(show: Show, stage: Stage, song: string): Advice[] {
  const timeline = timelineOf(show.songs[song]!)
  const dark = new Map<string, CuePlace[]>()
  for (const place of cuePlaces(show.songs[song]!, timeline)) {
    const track = show.songs[song]!.tracks[place.cue.track]!
    const hasLight = (stage.parts[track.part]?.fixtures.length ?? 0) > 0
    if (hasLight || track.muted || !isLit(show, place.cue, track.part)) continue
    dark.set(track.part, [...(dark.get(track.part) ?? []), place])
  }
  return [...dark].map(([part, places]) => darkAdvice(show, song, timeline, part, places))
}

function darkAdvice(show: Show, song: string, timeline: Timeline, part: string, places: CuePlace[]): Advice {
  const bars = joinedBars(places.map(p => barsOf(timeline, p.at, (p.at + p.length) as typeof p.at)))
  const section = sectionAt(timeline, places[0]!.at)
  const name = show.parts[part]?.name ?? part
  const refs = new Map(
    places.map(p => [`${p.sourceSection} ${p.id}`, { section: p.sourceSection, cue: p.id }]),
  )
  return {
    kind: 'darkCues',
    severity: 'heed',
    place: { song, ...(section && { section: section.id }), bars, parts: [part], cues: [...refs.values()] },
    brief: `No light for ${name}, ${counted(refs.size, 'cue')} dark`,
    says: `“${show.songs[song]!.title}”, ${barsText(bars)}: no light for ${name} tonight, so ${counted(refs.size, 'cue')} ${refs.size === 1 ? 'stays' : 'stay'} dark.`,
    remedy: `Give ${name} a fixture or a stand-in, or play the song's light on another part.`,
  }
}

function isLit(show: Show, cue: Cue, part: string): boolean {
  const light: Light | undefined = 'look' in cue.light ? show.looks[cue.light.look]?.parts[part] : cue.light
  if (!light) return false
  return typeof light.level === 'number' ? light.level > 0 : light.level.some(point => point.level > 0)
}
