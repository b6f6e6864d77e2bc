// Advice on cables that do not reach: from the box along the floor and up to the light.

import { reachOf } from '../rig/reach.ts'
import type { Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import type { Advice } from './advice.ts'

const metres = (length: number): string => `${Number(length.toFixed(1))} m`

/** One piece of advice a cable that is shorter than its way by 5 cm or more. */
export const cablesAdvice = (rig: Rig, kit: Kit): Advice[] =>
  Object.entries(kit.boxes).flatMap(([id, out]) =>
    (rig.boxes[id]?.sockets ?? []).flatMap((socket): Advice[] => {
      const stand = out.sockets[socket.id]
      const fixture = stand && rig.fixtures[stand.fixture]
      if (!stand || stand.missing || !fixture) return []
      const { length } = socket.cable
      const { run, rise, slack } = reachOf(out.place, stand.place, length)
      if (slack > -0.05) return []
      return [
        {
          kind: 'cableShort',
          severity: 'heed',
          place: { boxes: [id], socket: socket.id, fixtures: [stand.fixture] },
          says: `${rig.boxes[id]!.name}, socket ${socket.label}: the cable of ${metres(length)} is ${metres(-slack)} too short for ${fixture.name}, ${metres(run)} away and ${metres(rise)} up.`,
          remedy: 'Use a longer cable, or bring the box and the light closer together.',
        },
      ]
    }),
  )
