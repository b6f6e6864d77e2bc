// What is chosen on the rig page: a box, one of its sockets, or a guest; and which page of the side is open.

import { create } from 'zustand'
import { useDocument } from '../document/document.ts'

export type SidePage = 'boxes' | 'patch' | 'kits'

interface RigChoice {
  readonly box: string | null
  /** A socket of that box. */
  readonly socket: string | null
  readonly guest: string | null
  readonly side: SidePage
  /** The length of every cable stands on the plan, not only of the chosen box's. */
  readonly showsLengths: boolean
  /** A kit that is looked at before it is chosen for tonight. */
  readonly kit: string | null
}

export const useRigChoice = create<RigChoice>(() => ({
  box: null,
  socket: null,
  guest: null,
  side: 'boxes',
  showsLengths: false,
  kit: null,
}))

export const chooseBox = (box: string | null): void =>
  useRigChoice.setState({ box, socket: null, guest: null, side: 'boxes' })

export const chooseSocket = (box: string, socket: string): void =>
  useRigChoice.setState({ box, socket, guest: null, side: 'boxes' })

export const chooseGuest = (guest: string): void =>
  useRigChoice.setState({ box: null, socket: null, guest, side: 'patch' })

export const openSide = (side: SidePage): void => useRigChoice.setState({ side, kit: null })

/** What is gone is no longer chosen. */
useDocument.subscribe(({ rig, show }) => {
  const { box, socket, guest, kit } = useRigChoice.getState()
  const tonight = show?.kits[show.tonight]
  if (box !== null && !tonight?.boxes[box]) useRigChoice.setState({ box: null, socket: null })
  else if (socket !== null && !rig?.boxes[box ?? '']?.sockets.some(s => s.id === socket)) {
    useRigChoice.setState({ socket: null })
  }
  if (guest !== null && !tonight?.guests[guest]) useRigChoice.setState({ guest: null })
  if (kit !== null && !show?.kits[kit]) useRigChoice.setState({ kit: null })
})
