// Tonight's parts: how many lights play each, and which other part's lights play one that has none.

import type { Stage } from '@glowchart/shared/rig/stage.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { edit } from '../../document/editing.ts'
import { Sign } from '../../ui/signs.tsx'
import { StandInChoice } from './StandInChoice.tsx'

export function PartsTonight({ show, stage }: { show: Show; stage: Stage }) {
  const kit = show.kits[show.tonight]!
  const standing = new Set(stage.fixtures.map(f => f.id))
  return (
    <ul className="changes" aria-label="Parts tonight">
      {show.partOrder.map(part => {
        const name = show.parts[part]!.name
        const own = kit.parts[part]?.fixtures.filter(id => standing.has(id)).length ?? 0
        const lights = stage.parts[part]?.fixtures.length ?? 0
        const says =
          lights === 0 ? 'no light, its cues stay dark' : lights === 1 ? 'one light' : `${lights} lights`
        return (
          <li key={part} className={lights === 0 ? 'heed' : ''}>
            <p>
              {lights === 0 && <Sign name="specs" />}
              {name}: {says}
            </p>
            {own === 0 && (
              <div className="row">
                <StandInChoice
                  show={show}
                  kit={show.tonight}
                  part={part}
                  onChoose={standIn => edit('setPartFixtures', { kit: show.tonight, part, standIn })}
                />
              </div>
            )}
          </li>
        )
      })}
    </ul>
  )
}
