// The key to the plan's lines: the cross-sections that are out, and what dashed means.

import { areaOf } from '@glowchart/shared/power/wire.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { wireText } from '../words.ts'

export function Key({ rig, kit }: { rig: Rig; kit: Kit }) {
  const wires = new Map(
    Object.keys(kit.boxes).flatMap(id =>
      (rig.boxes[id]?.sockets ?? []).map(s => [wireText(s.cable.wire), areaOf(s.cable.wire)] as const),
    ),
  )
  if (wires.size === 0) return null
  return (
    <p className="key">
      {[...wires]
        .sort((a, b) => b[1] - a[1])
        .map(([text, area]) => (
          <span key={text}>
            <i style={{ borderTopWidth: Math.min(4, 0.6 + area * 0.9) }} />
            {text}
          </span>
        ))}
      <span>
        <i className="dashed" />
        overhead
      </span>
      <span>Cables across a stage trip people: tape them, or lay them round.</span>
    </p>
  )
}
