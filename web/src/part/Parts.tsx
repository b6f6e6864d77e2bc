// The parts of the show, highest on the stage first; pressing one opens its panel.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { chooseThing } from '../document/choice.ts'
import type { Tonight } from '../document/viewed.ts'
import './part.css'

export function Parts({ show, tonight }: { show: Show; tonight: Tonight }) {
  return (
    <section className="panel parts" aria-labelledby="parts-title">
      <h2 id="parts-title">Parts</h2>
      <ul>
        {show.partOrder.map(part => (
          <li key={part}>
            <button type="button" onClick={() => chooseThing('part', part)}>
              <span className="name">{show.parts[part]?.name}</span>
              <small>{countText(tonight.kit.parts[part]?.fixtures.length ?? 0)}</small>
            </button>
          </li>
        ))}
      </ul>
      <p className="note">Click fixtures on the stage in order, or drag around them, to make a part.</p>
    </section>
  )
}

const countText = (n: number): string =>
  n === 0 ? 'no fixture tonight' : n === 1 ? 'one fixture' : `${n} fixtures`
