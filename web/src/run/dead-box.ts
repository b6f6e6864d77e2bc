// Playing without a box that died, or with it again: one press, whether the draft plays or a version that was published.

import { boxIsOut } from '@glowchart/shared/rig/dead-box.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { edit } from '../document/editing.ts'
import { say, useSession } from '../document/session.ts'
import { askVersion } from '../live/desk.ts'
import { playedNow, useVersion } from '../version/running.ts'

/** Gives the box's places in the parts to what is left, or back to it, where the show plays. */
export async function turnBox(box: string): Promise<void> {
  const played = playedNow()
  if (!played) return
  const kit = played.show.tonight
  const isOut = boxIsOut(played.show.kits[kit]!, box)
  const name = played.rig.boxes[box]?.name ?? box
  const answer = await edit(isOut ? 'playWithBox' : 'playWithoutBox', { kit, box })
  if (!answer.ok || !(await takenIn())) return
  say(isOut ? `${name} plays again.` : `The parts play without ${name}.`)
}

/** Takes the kit into the version that plays; nothing to do in rehearsal. */
async function takenIn(): Promise<boolean> {
  if (!useVersion.getState().running) return true
  const take = { songs: [], groups: ['kit' as const] }
  const looked = await askVersion({ do: 'check', take })
  const { checked } = useVersion.getState()
  // Whatever advice says of the lights that are left: those of the dead box are dark already.
  const done =
    looked.ok && checked
      ? await askVersion({ do: 'publish', take, hash: checked.hash, despite: true })
      : looked
  if (!done.ok && done.problem) useSession.setState({ problem: done.problem })
  return done.ok
}

/** Boxes of a kit that have something in their sockets. */
export const pluggedBoxes = (kit: Kit): string[] =>
  Object.keys(kit.boxes).filter(box => Object.keys(kit.boxes[box]!.sockets).length > 0)
