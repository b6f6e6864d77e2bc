// Playing the same songs on another kit: what is lost on the way from one to the other, part by part, and the way out.

import { CodedError } from '../errors.ts'
import type { MotionKind } from '../light/schema.ts'
import type { Rig } from '../rig/schema.ts'
import { type Stage, stageOf } from '../rig/stage.ts'
import type { Kit, Show } from '../show/schema.ts'
import type { Advice } from './advice.ts'
import { cuesAdvice } from './cues.ts'
import { counted, listText } from './words.ts'

/** Motions that travel over the part's order, so that its number of lights is seen in them. */
const travelling: readonly MotionKind[] = ['chase', 'sway', 'cascade', 'ring', 'answer', 'scatter', 'drift']

export interface PartChange {
  readonly part: string
  readonly name: string
  /** Lights that play it in the one kit and in the other. */
  readonly before: number
  readonly after: number
  /**
   * `empty`: no light plays it any more; `standIn`: another part's lights play it from now on; `fewer` or `more`: its
   * own order has another length; `same`.
   */
  readonly becomes: 'empty' | 'standIn' | 'fewer' | 'more' | 'same'
  /** Who plays it instead. */
  readonly standIn: string | null
  /** Cues with a motion that travels over the part, in all songs. */
  readonly travelling: number
  readonly says: string
  /** A part that could stand in for an empty one: the nearest in the chart's order that has lights. */
  readonly proposed: string | null
}

export interface Retarget {
  readonly parts: readonly PartChange[]
  /** Lit cues that are dark with the other kit and were not before, as advice by song and part. */
  readonly dark: readonly Advice[]
}

/**
 * Compares two kits of a show. A motion runs over its part's order as 0…1, so that it takes the same time on fewer
 * lights: only its steps are coarser.
 * @throws CodedError `kit.unknown`
 */
export function retarget(rig: Rig, show: Show, from: string, to: string): Retarget {
  const [before, after] = [stageFor(rig, show, from), stageFor(rig, show, to)]
  const kit = show.kits[to]!
  const darkBefore = new Set(darkCues(show, before).map(keyOf))
  return {
    parts: show.partOrder.map(part => changeOf(show, kit, part, before, after)),
    dark: darkCues(show, after).filter(advice => !darkBefore.has(keyOf(advice))),
  }
}

function stageFor(rig: Rig, show: Show, kitId: string): Stage {
  const kit = show.kits[kitId]
  if (!kit) throw new CodedError('kit.unknown', `there is no kit "${kitId}"`, `kits.${kitId}`)
  return stageOf(rig, kit)
}

const darkCues = (show: Show, stage: Stage): Advice[] =>
  show.songOrder.flatMap(song => cuesAdvice(show, stage, song))

/** Dark cues are told by song and part. */
const keyOf = ({ place }: Advice): string => `${place.song} ${place.parts?.[0]}`

const lights = (stage: Stage, part: string): number => stage.parts[part]?.fixtures.length ?? 0

function changeOf(show: Show, kit: Kit, part: string, before: Stage, after: Stage): PartChange {
  const name = show.parts[part]!.name
  const [was, is] = [lights(before, part), lights(after, part)]
  const standIn = standInOf(kit, part, after)
  const becomes =
    is === 0 && was > 0
      ? 'empty'
      : standIn !== null
        ? 'standIn'
        : is < was
          ? 'fewer'
          : is > was
            ? 'more'
            : 'same'
  const moving = movingCues(show, part)
  const standInName = standIn === null ? '' : show.parts[standIn]!.name
  const proposed = becomes === 'empty' ? nearestLit(show, part, after) : null
  const says = {
    empty: `${name} had ${counted(was, 'light')} and has none: its cues stay dark.`,
    standIn: `${name} is played by ${standInName}, on ${counted(is, 'light')} instead of ${was}.`,
    fewer: `${name} has ${counted(is, 'light')} instead of ${was}.${moving > 0 ? ` ${counted(moving, 'cue')} ${moving === 1 ? 'travels' : 'travel'} over it: in coarser steps, in the same time.` : ''}`,
    more: `${name} has ${counted(is, 'light')} instead of ${was}.`,
    same: is === 0 ? `${name} has no light in either.` : `${name} keeps its ${counted(is, 'light')}.`,
  }[becomes]
  return { part, name, before: was, after: is, becomes, standIn, travelling: moving, says, proposed }
}

/** The part whose lights play an empty one; null when it plays itself, or nobody does. */
function standInOf(kit: Kit, part: string, stage: Stage): string | null {
  const standing = new Set(stage.fixtures.map(fixture => fixture.id))
  const seen = new Set<string>()
  let at: string | undefined = part
  while (at !== undefined && !seen.has(at)) {
    if (kit.parts[at]?.fixtures.some(id => standing.has(id))) return at === part ? null : at
    seen.add(at)
    at = kit.parts[at]?.standIn
  }
  return null
}

/** The part nearest in the chart's order that has lights on a stage; null when none has. */
export function nearestLit(show: Show, part: string, stage: Stage): string | null {
  const at = show.partOrder.indexOf(part)
  const lit = show.partOrder.filter(other => other !== part && lights(stage, other) > 0)
  const distance = (other: string): number => Math.abs(show.partOrder.indexOf(other) - at)
  return lit.sort((a, b) => distance(a) - distance(b) || lights(stage, b) - lights(stage, a))[0] ?? null
}

function movingCues(show: Show, part: string): number {
  let count = 0
  for (const song of Object.values(show.songs)) {
    for (const section of Object.values(song.sections)) {
      for (const cue of Object.values(section.cues)) {
        const track = song.tracks[cue.track]
        if (track?.part !== part || track.muted) continue
        const light = 'look' in cue.light ? show.looks[cue.light.look]?.parts[part] : cue.light
        if (light && light.motion.spread > 0 && travelling.includes(light.motion.kind)) count++
      }
    }
  }
  return count
}

/** The losses in a line: "2 parts empty, 1 in coarser steps, 12 cues dark". */
export function lossesText({ parts, dark }: Retarget): string {
  const empty = parts.filter(part => part.becomes === 'empty').length
  const coarser = parts.filter(part => part.becomes === 'fewer').length
  const cues = dark.reduce((sum, advice) => sum + (advice.place.cues?.length ?? 0), 0)
  const losses = [
    ...(empty > 0 ? [`${counted(empty, 'part')} without light`] : []),
    ...(coarser > 0 ? [`${counted(coarser, 'part')} on fewer lights`] : []),
    ...(cues > 0 ? [`${counted(cues, 'cue')} dark`] : []),
  ]
  return losses.length > 0 ? listText(losses) : 'Nothing is lost'
}
