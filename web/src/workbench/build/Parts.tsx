// The parts list of a build, with the prices that its owner fills in, and what they come to.

import { costOf, partsNeeded } from '@glowchart/shared/rig/build-parts.ts'
import type { Build } from '@glowchart/shared/rig/schema.ts'
import { NameField } from '../../ui/NameField.tsx'
import { Sign } from '../../ui/signs.tsx'
import { Measure } from '../Measure.tsx'
import { changeBuild } from './change.ts'

export function Parts({ id, build }: { id: string; build: Build }) {
  const { parts } = build
  const change = (what: string, next: Build['parts']) => changeBuild(id, build, what, { parts: next })
  const set = (i: number, what: string, part: Build['parts'][number]) => change(what, parts.with(i, part))
  const { sum, unpriced } = costOf(parts)
  const needed = partsNeeded(build)
  const missing = needed.filter(
    part => !parts.some(other => other.what === part.what && other.count === part.count),
  )
  const take = () => {
    const names = new Set(needed.map(part => part.what))
    // A strip or a plug of the build as it was before gives way to the one it has now.
    const rest = parts.filter(part => !names.has(part.what) && !/^(Strip|Plug), /.test(part.what))
    void change('parts from its figures', [...needed, ...rest])
  }
  return (
    <section className="group" aria-labelledby="parts-title">
      <h3 id="parts-title">Parts</h3>
      {parts.length > 0 && (
        <table className="parts">
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">How many</th>
              <th scope="col">Price of one</th>
              <th scope="col">
                <span className="sr">Take out</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {parts.map((part, i) => (
              // Parts have no ids; they are told apart by their place.
              // biome-ignore lint/suspicious/noArrayIndexKey: see above.
              <tr key={i}>
                <td>
                  <NameField
                    label={`Part ${i + 1}`}
                    name={part.what}
                    onName={what => set(i, 'name of a part', { ...part, what })}
                  />
                </td>
                <td>
                  <Measure
                    bare
                    label={`How many of part ${i + 1}`}
                    least={0}
                    most={10000}
                    value={part.count}
                    onChange={count => set(i, 'number of a part', { ...part, count })}
                  />
                </td>
                <td>
                  <Measure
                    bare
                    label={`Price of part ${i + 1}`}
                    least={0}
                    most={100000}
                    value={part.price}
                    onChange={price => set(i, 'price of a part', { ...part, price })}
                    onEmpty={() => set(i, 'price of a part', { what: part.what, count: part.count })}
                  />
                </td>
                <td>
                  <button
                    type="button"
                    className="btn quiet"
                    aria-label={`Take out ${part.what}`}
                    onClick={() => change(`without ${part.what}`, parts.toSpliced(i, 1))}
                  >
                    <Sign name="cross" />
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row" colSpan={2}>
                {unpriced > 0 ? `Together, ${unpriced} without a price` : 'Together'}
              </th>
              <td>
                <b>{sum.toFixed(2)}</b>
              </td>
              <td />
            </tr>
          </tfoot>
        </table>
      )}
      <div className="acts">
        {missing.length > 0 && (
          <button type="button" className="btn outline" onClick={take}>
            Take from its figures
          </button>
        )}
        <button
          type="button"
          className="btn outline"
          aria-disabled={parts.length >= 100}
          onClick={() => parts.length < 100 && change('a part more', [...parts, { what: 'Part', count: 1 }])}
        >
          Add a part
        </button>
      </div>
    </section>
  )
}
