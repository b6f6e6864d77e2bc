// Edits for a box that dies on the stage: its places in the parts go to what is left, in one action, and come back.

import { nearestLit } from '../../advice/retarget.ts'
import { stageOf } from '../../rig/stage.ts'
import { id } from '../fields.ts'
import type { Kit, Show } from '../schema.ts'
import { found, mapped, put, withFields } from './change.ts'
import { showEdit } from './edit.ts'
import { inKit } from './kits.ts'

const outBox = (kit: Kit, box: string) => found(kit.boxes, box, 'box', kit.name)

/** The box with all its fixtures missing; it keeps in mind which of them were so before. */
function allMissing(kit: Kit, box: string): Kit {
  const out = outBox(kit, box)
  const missing = Object.keys(out.sockets).filter(socket => out.sockets[socket]!.missing)
  const sockets = mapped(out.sockets, stand => withFields(stand, { missing: true }))
  const dead = { ...out, sockets, missingBefore: out.missingBefore ?? missing }
  return { ...kit, boxes: put(kit.boxes, box, dead) }
}

function allBack(kit: Kit, box: string): Kit {
  const { missingBefore = [], ...out } = outBox(kit, box)
  const sockets = mapped(out.sockets, (stand, socket) =>
    withFields(stand, { missing: missingBefore.includes(socket) ? true : null }),
  )
  return { ...kit, boxes: put(kit.boxes, box, { ...out, sockets }) }
}

export const deadBoxEdits = {
  /**
   * Plays without a box of a kit: what stands in its sockets is missing, so that the parts run over the lights that are
   * left; a part that is left with none is played by the nearest one that has some.
   */
  playWithoutBox: showEdit(
    { kit: id, box: id },
    (args, _show, rig) => `Play without ${rig.boxes[args.box]?.name ?? args.box}`,
    (show, args, rig) =>
      inKit(show, args.kit, kit => {
        const before = stageOf(rig, kit)
        const left = allMissing(kit, args.box)
        const after = stageOf(rig, left)
        const isEmptied = (part: string): boolean =>
          (before.parts[part]?.fixtures.length ?? 0) > 0 && after.parts[part]!.fixtures.length === 0
        return show.partOrder
          .filter(isEmptied)
          .reduce((so, part) => standingIn(show, so, part, nearestLit(show, part, after)), left)
      }),
  ),

  /**
   * The box works again: its fixtures are back in their sockets and parts, but for those that were missing before.
   * Stand-ins wait for the next time.
   */
  playWithBox: showEdit(
    { kit: id, box: id },
    (args, _show, rig) => `Play with ${rig.boxes[args.box]?.name ?? args.box} again`,
    (show, args) => inKit(show, args.kit, kit => allBack(kit, args.box)),
  ),
}

function standingIn({ parts }: Show, kit: Kit, part: string, standIn: string | null): Kit {
  if (standIn === null || !Object.hasOwn(parts, standIn)) return kit
  return { ...kit, parts: put(kit.parts, part, withFields(kit.parts[part]!, { standIn })) }
}
