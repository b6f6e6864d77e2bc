// Advice on the patch: every clash of tonight's addresses, sockets and fixtures.

import type { Clash } from '../rig/clash.ts'
import { patch } from '../rig/patch.ts'
import type { Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import type { Advice } from './advice.ts'

/** One piece of advice a clash. A clash is never played over: some light is dark, or follows another's channels. */
export const patchAdvice = (rig: Rig, kit: Kit): Advice[] =>
  patch(rig, kit).clashes.map(clash => adviceOf(clash, rig))

function adviceOf({ kind, place, says, remedy }: Clash, rig: Rig): Advice {
  const { box, fixture, others = [], ...rest } = place
  const isBox = (id: string) => Object.hasOwn(rig.boxes, id)
  const boxes = [...(box === undefined ? [] : [box]), ...others.filter(isBox)]
  const fixtures = [...(fixture === undefined ? [] : [fixture]), ...others.filter(id => !isBox(id))]
  return {
    kind,
    severity: 'stop',
    place: { ...rest, ...(boxes.length > 0 && { boxes }), ...(fixtures.length > 0 && { fixtures }) },
    says,
    remedy,
    ...(kind === 'past512' && { source: 'ANSI E1.11 (DMX512-A): 512 slots a universe' }),
  }
}
