// Which parts a light plays in: pressed in and out, one step back each.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { editTogether } from '../../document/editing.ts'

export function PartChoice({ show, fixture, name }: { show: Show; fixture: string; name: string }) {
  const { parts } = show.kits[show.tonight]!
  if (show.partOrder.length === 0) return null
  const plays = show.partOrder.some(part => parts[part]?.fixtures.includes(fixture))
  return (
    <fieldset className="part-choice">
      <legend>Plays in</legend>
      {show.partOrder.map(part => {
        const members = parts[part]?.fixtures ?? []
        const isIn = members.includes(fixture)
        const partName = show.parts[part]!.name
        const next = isIn ? members.filter(id => id !== fixture) : [...members, fixture]
        return (
          <button
            key={part}
            type="button"
            className="btn small"
            aria-pressed={isIn}
            onClick={() =>
              editTogether(`${name} ${isIn ? 'out of' : 'into'} ${partName}`, [
                ['setPartFixtures', { kit: show.tonight, part, fixtures: next }],
              ])
            }
          >
            {partName}
          </button>
        )
      })}
      {!plays && <span className="heed">No part: it stays dark in songs.</span>}
    </fieldset>
  )
}
