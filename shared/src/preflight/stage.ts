// The checks of what stands on the stage: patch, parts, faults, the line check, wires and cables.

import { counted, listText } from '../advice/words.ts'
import { eveningOf, timeText } from '../night/evening.ts'
import { patch } from '../rig/patch.ts'
import { stageOf } from '../rig/stage.ts'
import type { Kit } from '../show/schema.ts'
import type { Facts } from './facts.ts'
import { foundRow, ofKinds } from './found.ts'
import type { Row } from './row.ts'

export const kitOf = ({ show }: Facts): Kit => show.kits[show.tonight]!
const NOT_READ = 'The stage is being read.'

export function patchRow(facts: Facts): Row {
  const row = { id: 'patch', checked: 'The patch' } as const
  if (!facts.stage) return { ...row, result: 'unknown', says: NOT_READ }
  const { entries } = patch(facts.rig, kitOf(facts))
  if (entries.length === 0) {
    return {
      ...row,
      result: 'stop',
      says: `No light stands in “${kitOf(facts).name}”.`,
      remedy: 'Put boxes out and lights into their sockets, or choose another kit for tonight.',
      mend: { do: 'go', place: 'rig' },
    }
  }
  const clashes = ofKinds(facts.stage, [
    'overlap',
    'past512',
    'socketTooSmall',
    'decoderTooSmall',
    'placedTwice',
    'unknown',
  ])
  const universes = new Set(entries.map(entry => entry.universe)).size
  const good = `${counted(entries.length, 'light')} on ${counted(universes, 'universe')}, no address taken twice.`
  return foundRow(row, clashes, good, 'rig')
}

export function partsRow(facts: Facts): Row {
  const row = { id: 'parts', checked: 'Every part has lights' } as const
  if (!facts.stage) return { ...row, result: 'unknown', says: NOT_READ }
  const found = ofKinds(facts.stage, [
    'emptyPart',
    'standInCircle',
    'memberUnknown',
    'memberAbsent',
    'memberTwice',
  ])
  return foundRow(row, found, `${counted(facts.show.partOrder.length, 'part')}, none empty.`, 'rig')
}

/** Faults that are known, and lights that are missing tonight. */
export function faultsRow(facts: Facts): Row {
  const row = { id: 'faults', checked: 'Known faults, missing lights' } as const
  if (!facts.stage) return { ...row, result: 'unknown', says: NOT_READ }
  const missing = Object.values(kitOf(facts).boxes)
    .flatMap(box => Object.values(box.sockets))
    .filter(stand => stand.missing)
    .map(stand => facts.rig.fixtures[stand.fixture]?.name ?? stand.fixture)
  const open = ofKinds(facts.stage, ['openFault'])
  const found = foundRow(row, open, 'No fault is open, and nothing is missing.', 'check')
  if (missing.length === 0) return found
  const says = `Missing tonight: ${listText(missing)}.`
  if (open.length > 0) return { ...found, more: [...(found.more ?? []), says] }
  return {
    ...row,
    result: 'heed',
    says,
    remedy: 'Their parts play without them. Stand a spare in their place, or go on so.',
    mend: { do: 'go', place: 'rig' },
  }
}

export function lineCheckRow(facts: Facts): Row {
  const row = { id: 'lineCheck', checked: 'Line check of tonight' } as const
  const { rig, server, page } = facts
  if (!server) return { ...row, result: 'unknown', says: 'What time it is at the server is not known yet.' }
  const owned = stageOf(rig, kitOf(facts)).fixtures.flatMap(({ id }) => rig.fixtures[id] ?? [])
  const tonight = eveningOf(page.at, server.offset)
  const checked = owned.filter(
    one => one.checked && eveningOf(Date.parse(one.checked.at), server.offset) === tonight,
  )
  const failed = checked.filter(one => !one.checked!.passed)
  const left = owned.length - checked.length
  const mend = { do: 'go', place: 'check' } as const
  if (failed.length > 0) {
    return {
      ...row,
      result: 'heed',
      says: `Failed: ${listText(failed.map(one => one.name))}.`,
      remedy: 'Mend it, or stand a spare in its place, and check it again.',
      mend,
    }
  }
  if (left > 0) {
    return {
      ...row,
      result: 'heed',
      says:
        checked.length === 0
          ? `Not done yet: ${counted(owned.length, 'light')} to check.`
          : `${checked.length} of ${owned.length} lights checked, ${left} left.`,
      remedy: 'Walk the line check: a light cannot answer, so only eyes can tell.',
      mend,
    }
  }
  if (owned.length === 0) return { ...row, result: 'good', says: 'No light of our own stands tonight.' }
  const last = Math.max(...checked.map(one => Date.parse(one.checked!.at)))
  const at = timeText(last, server.offset)
  return { ...row, result: 'good', says: `All ${owned.length} lights passed, the last at ${at}.` }
}

/** Sockets: contacts, outputs, conductors and fuses. */
export function wiringRow(facts: Facts): Row {
  const row = { id: 'wiring', checked: 'Fuses, plugs and wires' } as const
  if (!facts.stage) return { ...row, result: 'unknown', says: NOT_READ }
  const good = 'No socket carries more than its parts may. Figures are estimates; local codes come first.'
  return foundRow(row, ofKinds(facts.stage, ['socketLoad']), good, 'rig')
}

export function cablesRow(facts: Facts): Row {
  const row = { id: 'cables', checked: 'Cables reach' } as const
  if (!facts.stage) return { ...row, result: 'unknown', says: NOT_READ }
  const good = 'Every cable is long enough on the plan, along the floor and up.'
  return foundRow(row, ofKinds(facts.stage, ['cableShort']), good, 'rig')
}
