// Remedies of what stands tonight: stand-ins, part lists, places that nobody has, addresses that are free.

import { type Claim, claimsOf, freeStart, LAST_SLOT } from '../../rig/claims.ts'
import type { Rig } from '../../rig/schema.ts'
import { stageOf } from '../../rig/stage.ts'
import type { Documents } from '../../show/edits/edit.ts'
import type { Told } from '../../show/edits.ts'
import type { Kit } from '../../show/schema.ts'
import type { Advice } from '../advice.ts'
import { nearestLit } from '../retarget.ts'
import type { Remedy } from './remedy.ts'

export function stageRemedies(documents: Documents, kitId: string, advice: Advice): Remedy[] {
  const { rig, show } = documents
  const kit = show.kits[kitId]!
  switch (advice.kind) {
    case 'emptyPart':
    case 'darkCues':
    case 'standInCircle':
      return standIn(documents, kitId, advice)
    case 'memberUnknown':
    case 'memberAbsent':
    case 'memberTwice':
      return members(documents, kitId, advice)
    case 'placedTwice':
      return oneOf(rig, kit, kitId, advice)
    case 'unknown':
      return unheardOf(rig, kit, kitId, advice)
    case 'overlap':
    case 'past512':
      return elsewhere(rig, kit, kitId, advice)
    default:
      return []
  }
}

function standIn({ rig, show }: Documents, kit: string, { place }: Advice): Remedy[] {
  const part = place.parts?.[0]
  const nearest = part === undefined ? null : nearestLit(show, part, stageOf(rig, show.kits[kit]!))
  if (part === undefined || nearest === null || !show.parts[part]) return []
  const says = `${show.parts[nearest]!.name} plays ${show.parts[part]!.name} tonight`
  return [
    {
      label: `Let ${says.replace(' plays ', ' play ')}`,
      says,
      edits: [['setPartFixtures', { kit, part, standIn: nearest }]],
    },
  ]
}

function members({ rig, show }: Documents, kit: string, { kind, place }: Advice): Remedy[] {
  const [part] = place.parts ?? []
  const [id] = place.fixtures ?? []
  const was = part === undefined ? undefined : show.kits[kit]!.parts[part]?.fixtures
  if (part === undefined || id === undefined || !was) return []
  const fixtures =
    kind === 'memberTwice' ? was.filter((one, i) => was.indexOf(one) === i) : was.filter(one => one !== id)
  const name = rig.fixtures[id]?.name ?? show.kits[kit]!.guests[id]?.name ?? id
  const says = kind === 'memberTwice' ? `${name} once in ` : `Take ${name} out of `
  return [
    {
      label: `${kind === 'memberTwice' ? `Keep ${says}` : says}${show.parts[part]!.name} tonight`,
      says: `${says}${show.parts[part]!.name}`,
      edits: [['setPartFixtures', { kit, part, fixtures }]],
    },
  ]
}

/** A remedy for each place that a fixture stands in: there, and in no other. */
function oneOf(rig: Rig, kit: Kit, kitId: string, { place }: Advice): Remedy[] {
  const [fixture] = place.fixtures ?? []
  const places = Object.entries(kit.boxes).flatMap(([box, { sockets }]) =>
    Object.entries(sockets).flatMap(([socket, stand]) =>
      stand.fixture === fixture && !stand.missing ? [{ box, socket }] : [],
    ),
  )
  const name = rig.fixtures[fixture ?? '']?.name
  if (name === undefined || places.length < 2) return []
  return places.map(kept => {
    const owner = rig.boxes[kept.box]
    const label = owner?.sockets.find(s => s.id === kept.socket)?.label ?? kept.socket
    return {
      label: `It stands in ${owner?.name ?? kept.box}, socket ${label}: clear the others here`,
      says: `${name} stands in ${owner?.name ?? kept.box}, socket ${label}`,
      edits: places
        .filter(other => other !== kept)
        .map(({ box, socket }): Told => ['removeStand', { kit: kitId, box, socket }]),
    }
  })
}

function unheardOf(rig: Rig, kit: Kit, kitId: string, { place }: Advice): Remedy[] {
  const [box] = place.boxes ?? []
  const { socket } = place
  const [fixture] = place.fixtures ?? []
  if (box !== undefined && socket !== undefined) {
    const name = rig.boxes[box]?.name ?? box
    const label = rig.boxes[box]?.sockets.find(s => s.id === socket)?.label ?? socket
    return [
      {
        label: `Clear socket ${label} of ${name} in this kit`,
        says: `Clear socket ${label} of ${name}`,
        edits: [['removeStand', { kit: kitId, box, socket }]],
      },
    ]
  }
  if (box !== undefined) {
    const says = `Take the box “${box}” out of this kit`
    return [{ label: says, says, edits: [['removeBox', { kit: kitId, box }]] }]
  }
  const guest = fixture === undefined ? undefined : kit.guests[fixture]
  if (fixture === undefined || !guest) return []
  const says = `Take the guest ${guest.name} out of this kit`
  return [{ label: says, says, edits: [['removeGuest', { kit: kitId, guest: fixture }]] }]
}

/** Another start address, the first that is free; the device has to be set by hand. */
function elsewhere(rig: Rig, kit: Kit, kitId: string, { place }: Advice): Remedy[] {
  const claims = claimsOf(rig, kit)
  const claim = claims.find(({ id, from, universe }) => {
    const isIt = id === place.boxes?.[0] || id === place.fixtures?.[0]
    return isIt && from === place.address && universe === place.universe
  })
  if (!claim) return []
  const free = freeStart(
    claims.filter(other => other !== claim),
    claim.universe,
    claim.to - claim.from + 1,
  )
  if (free === null || free > LAST_SLOT) return []
  return [
    {
      label: `Set ${claim.name} to address ${free} here; set it on the device by hand, too`,
      says: `${claim.name} to address ${free}`,
      edits: [moved(rig, kit, kitId, claim, free)],
    },
  ]
}

const moved = (rig: Rig, kit: Kit, kitId: string, { who, id }: Claim, address: number): Told =>
  who === 'box'
    ? ['setBox', { box: id, value: { ...rig.boxes[id]!, address } }]
    : ['setGuest', { kit: kitId, guest: id, value: { ...kit.guests[id]!, address } }]
