// Advice on tonight's parts: empty ones, stand-ins that go round in circles, members that are not there.

import type { Rig } from '../rig/schema.ts'
import type { Stage } from '../rig/stage.ts'
import type { Kit, Show } from '../show/schema.ts'
import type { Advice } from './advice.ts'
import { listText } from './words.ts'

/** What is wrong with the parts of a kit. `stage` is that kit's, as `stageOf` lays it out. */
export function partsAdvice(rig: Rig, show: Show, kit: Kit, stage: Stage): Advice[] {
  const advice: Advice[] = []
  const standing = new Set(stage.fixtures.map(f => f.id))
  const isDark = (part: string) => (stage.parts[part]?.fixtures.length ?? 0) === 0
  const circled = new Set<string>()
  for (const part of show.partOrder) {
    advice.push(...membersAdvice(rig, show, kit, part, standing))
    if (!isDark(part) || circled.has(part)) continue
    const circle = circleFrom(kit, part)
    if (circle.includes(part)) {
      for (const member of circle) circled.add(member)
      advice.push(circleAdvice(show, circle))
    } else advice.push(emptyAdvice(show, kit, part))
  }
  return advice
}

const nameOf = (show: Show, part: string): string => show.parts[part]?.name ?? part

/** The circle that a part's stand-ins run into, from its first member on; empty when they come to an end. */
function circleFrom(kit: Kit, part: string): string[] {
  const chain: string[] = []
  for (let at: string | undefined = part; at !== undefined; at = kit.parts[at]?.standIn) {
    const met = chain.indexOf(at)
    if (met >= 0) return chain.slice(met)
    chain.push(at)
  }
  return []
}

function circleAdvice(show: Show, circle: readonly string[]): Advice {
  const names = circle.map(part => nameOf(show, part))
  return {
    kind: 'standInCircle',
    severity: 'heed',
    place: { parts: circle },
    says:
      names.length === 1
        ? `${names[0]} is empty tonight and stands in for itself, so it stays dark.`
        : `${listText(names)} are empty tonight and stand in for each other, so they stay dark.`,
    remedy: 'Give one of them a fixture, or a stand-in that has one.',
  }
}

function emptyAdvice(show: Show, kit: Kit, part: string): Advice {
  const standIn = kit.parts[part]?.standIn
  const why =
    standIn === undefined ? 'no stand-in' : `its stand-in, ${nameOf(show, standIn)}, has no light either`
  const isPlayed = Object.values(show.songs).some(s => Object.values(s.tracks).some(t => t.part === part))
  return {
    kind: 'emptyPart',
    severity: isPlayed ? 'heed' : 'note',
    place: { parts: [part] },
    says: `No fixture for ${nameOf(show, part)} in “${kit.name}”, and ${why}.`,
    remedy: `Give ${nameOf(show, part)} fixtures that stand tonight, or a stand-in that has some.`,
  }
}

function membersAdvice(
  rig: Rig,
  show: Show,
  kit: Kit,
  part: string,
  standing: ReadonlySet<string>,
): Advice[] {
  const members = kit.parts[part]?.fixtures ?? []
  const partName = nameOf(show, part)
  return [...new Set(members)].flatMap((id): Advice[] => {
    const place = { parts: [part], fixtures: [id] }
    const name = rig.fixtures[id]?.name ?? kit.guests[id]?.name
    const found: Advice[] = []
    if (name === undefined) {
      found.push({
        kind: 'memberUnknown',
        severity: 'heed',
        place,
        says: `The fixture “${id}” is in ${partName}, but neither the rig nor “${kit.name}” has it.`,
        remedy: `Take it out of ${partName}, or add it to the rig.`,
      })
    } else if (!standing.has(id)) {
      found.push({
        kind: 'memberAbsent',
        severity: 'heed',
        place,
        says: `${name} is in ${partName}, but does not stand in “${kit.name}”.`,
        remedy: `Plug ${name} into a socket of the kit, or take it out of ${partName}.`,
      })
    }
    const times = members.filter(member => member === id).length
    if (times > 1) {
      found.push({
        kind: 'memberTwice',
        severity: 'heed',
        place,
        says: `${name ?? `The fixture “${id}”`} is in ${partName} ${times} times: only its first place counts.`,
        remedy: `Leave ${name ?? 'it'} in ${partName} once.`,
      })
    }
    return found
  })
}
