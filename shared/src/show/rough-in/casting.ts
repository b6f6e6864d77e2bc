// Who plays what: every section with a mood gives its voices to parts, so that each part is heard from somewhere.

import type { Timeline } from '../../time/timeline.ts'
import { shuffled } from './chance.ts'
import { type Mood, type MoodPlan, moodPlans, still, type Voice } from './moods.ts'

/** A section to be written. */
export interface Scene {
  readonly section: string
  readonly mood: Mood
  readonly plan: MoodPlan
  /** How often the mood has come before in the song. */
  readonly again: number
  /** Energy of the sections played before and after it; undefined where there is none, or none with a mood. */
  readonly before: number | undefined
  readonly after: number | undefined
  readonly isFirst: boolean
  readonly isLast: boolean
  /** What each part plays; parts that are left out rest. */
  readonly cast: ReadonlyMap<string, Voice>
}

/** How much lower a part is that doubles another's voice, and one that would else rest through the whole song. */
const DOUBLED = 0.85
const RESTING: Voice = {
  level: 0.32,
  tint: 'second',
  movements: [still],
  late: true,
}

/** The sections that have cues of their own and a mood, in order of the song. A copy follows its source. */
export function scenesOf(
  timeline: Timeline,
  moods: Readonly<Record<string, Mood>>,
  parts: readonly string[],
  seed: number,
): Scene[] {
  const times = new Map<Mood, number>()
  const moodOf = (id: string | undefined) =>
    id !== undefined && Object.hasOwn(moods, id) ? moods[id] : undefined
  const energyAt = (index: number): number | undefined => {
    const mood = moodOf(timeline.sections[index]?.source)
    return mood && moodPlans[mood].energy
  }
  const scenes = timeline.sections.flatMap(({ id, source, index }) => {
    const mood = moodOf(id)
    if (source !== id || !mood) return []
    const again = times.get(mood) ?? 0
    times.set(mood, again + 1)
    const plan = moodPlans[mood]
    const cast = castOf(plan, shuffled(parts, seed, `cast ${mood}`))
    const isFirst = index === 0
    const isLast = index === timeline.sections.length - 1
    const [before, after] = [energyAt(index - 1), energyAt(index + 1)]
    return [{ section: id, mood, plan, again, before, after, isFirst, isLast, cast }]
  })
  bringIn(scenes, parts)
  return scenes
}

function castOf({ voices, tutti }: MoodPlan, parts: readonly string[]): Map<string, Voice> {
  const cast = new Map<string, Voice>()
  for (const [i, part] of parts.entries()) {
    const voice = voices[i % voices.length]!
    if (i < voices.length) cast.set(part, voice)
    else if (tutti) cast.set(part, { ...voice, level: DOUBLED * voice.level })
  }
  return cast
}

/** Gives parts that would rest all through something low to play, in the most open sections by turns. */
function bringIn(
  scenes: readonly { plan: MoodPlan; cast: Map<string, Voice> }[],
  parts: readonly string[],
): void {
  const open = [...scenes].sort((a, b) => b.plan.energy - a.plan.energy)
  const resting = parts.filter(part => !scenes.some(scene => scene.cast.has(part)))
  for (const [i, part] of resting.entries()) open[i % open.length]?.cast.set(part, RESTING)
}
