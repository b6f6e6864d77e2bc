// Putting a build into a socket: a spare of it, or a new fixture with the next serial; one step back.

import type { Box, Rig } from '@glowchart/shared/rig/schema.ts'
import { nextOf, stockOf } from '@glowchart/shared/rig/spares.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Place } from '@glowchart/shared/show/fields.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import { create } from 'zustand'
import { shownDocuments } from '../../document/document.ts'
import { editTogether, type Told } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { say } from '../../document/session.ts'
import { chooseSocket, useRigChoice } from '../choice.ts'

interface Offer {
  readonly build: string
  readonly box: string
  readonly socket: string
}

/** A build that was put into a socket while none of it is spare: to be made new, or not. */
export const useOffer = create<{ offer: Offer | null; makesNew: boolean }>(() => ({
  offer: null,
  makesNew: false,
}))

/** Puts a spare of a build into a socket; without one it offers a new fixture. What stood there goes to the spares. */
export function fillSocket(offer: Offer): void {
  const documents = shownDocuments()
  const kit = documents?.show.kits[documents.show.tonight]
  if (!documents || !kit) return
  const [spare] = stockOf(documents.rig, kit, offer.build).spare
  if (spare !== undefined) stand(documents, kit, offer, spare, [])
  else if (useOffer.getState().makesNew) fillWithNew(offer)
  else {
    useOffer.setState({ offer })
    say('None of it is spare. Add a new one?')
  }
}

/** Adds a fixture of the build to the rig, and puts it into the socket. */
export function fillWithNew(offer: Offer): void {
  const documents = shownDocuments()
  const kit = documents?.show.kits[documents.show.tonight]
  if (!documents || !kit) return
  const fixture = newId('fixture')
  const value = nextOf(documents.rig, offer.build)
  stand(documents, kit, offer, fixture, [['setFixture', { fixture, value }]], value.name)
}

function stand(
  { rig, show }: Documents,
  kit: Kit,
  { build, box, socket }: Offer,
  fixture: string,
  first: readonly Told[],
  name = rig.fixtures[fixture]!.name,
): void {
  useOffer.setState({ offer: null })
  const owned = rig.boxes[box]
  if (!owned) return
  const before = kit.boxes[box]?.sockets[socket]
  // Where the one before stood, as it was turned; its trim and its colour order were its own.
  const standing = before
    ? { fixture, place: before.place, turn: before.turn }
    : { fixture, place: freshPlace(kit, owned, box, socket) }
  const part = partFor(rig, show, kit, build)
  const joins: Told[] =
    part && !kit.parts[part]?.fixtures.includes(fixture)
      ? [
          [
            'setPartFixtures',
            { kit: show.tonight, part, fixtures: [...(kit.parts[part]?.fixtures ?? []), fixture] },
          ],
        ]
      : []
  const label = owned.sockets.find(s => s.id === socket)?.label ?? socket
  void editTogether(`Stand ${name}`, [
    ...first,
    ['setStand', { kit: show.tonight, box, socket, stand: standing }],
    ...joins,
  ])
  say(`${name} stands in ${owned.name}, socket ${label}${part ? `, in ${show.parts[part]!.name}` : ''}.`)
  goOn(owned, box, socket)
}

/** The part that all others of a build play in tonight, so that a new one plays along; null when there is no such. */
function partFor(rig: Rig, show: Show, kit: Kit, build: string): string | null {
  const parts = show.partOrder.filter(part =>
    kit.parts[part]?.fixtures.some(id => rig.fixtures[id]?.build === build),
  )
  return parts.length === 1 ? parts[0]! : null
}

/** In front of its box, half a metre from one socket to the next: to be moved to where it stands. */
function freshPlace(kit: Kit, box: Box, boxId: string, socket: string): Place {
  const at = kit.boxes[boxId]?.place ?? { x: 0, y: kit.stage.depth, z: 0 }
  const index = box.sockets.findIndex(s => s.id === socket)
  const half = kit.stage.width / 2
  const x = at.x + (index - (box.sockets.length - 1) / 2) * 0.5
  const y = Math.max(0.3, at.y - 1.2)
  return { x: Number(Math.max(-half, Math.min(half, x)).toFixed(2)), y: Number(y.toFixed(2)), z: 0 }
}

/** Chooses the next free socket of the box, so that the next build can be pressed; or the one that was filled. */
function goOn(box: Box, boxId: string, socket: string): void {
  const documents = shownDocuments()
  const stands = documents?.show.kits[documents.show.tonight]?.boxes[boxId]?.sockets ?? {}
  const from = box.sockets.findIndex(s => s.id === socket)
  const order = [...box.sockets.slice(from + 1), ...box.sockets.slice(0, from)]
  const chosen = useRigChoice.getState()
  const wasChosen = chosen.box === boxId && chosen.socket === socket
  chooseSocket(boxId, (wasChosen ? order.find(s => !stands[s.id])?.id : undefined) ?? socket)
}
