// The plug of a build from its solder side, its contacts to choose, and what every wrong turn in the socket gives.

import { plugOf } from '@glowchart/shared/rig/build-plug.ts'
import { turnsOf } from '@glowchart/shared/rig/contacts.ts'
import { contacts as joinable } from '@glowchart/shared/rig/electric.ts'
import type { Build } from '@glowchart/shared/rig/schema.ts'
import { Pick } from '../Pick.tsx'
import { changeBuild } from './change.ts'
import { contactLetter, contactWords } from './words.ts'

export function Plug({ id, build }: { id: string; build: Build }) {
  const { contacts } = build
  const change = (next: Build['contacts']) =>
    changeBuild(id, build, 'contacts of its plug', { contacts: next })
  const options = joinable.map(joined => [joined, contactWords[joined]] as const)
  return (
    <section className="group" aria-labelledby="plug-title">
      <h3 id="plug-title">Plug</h3>
      <div className="plug">
        <PlugPicture contacts={contacts} />
        <ol>
          {plugOf(contacts).map(({ letter, joined }, i) => (
            <li key={letter}>
              <span className="score" aria-hidden="true">
                {letter}
              </span>
              <Pick
                bare
                label={`Contact ${letter}`}
                value={joined}
                options={options}
                onChange={to => change(contacts.with(i, to))}
              />
            </li>
          ))}
        </ol>
      </div>
      <div className="acts">
        <button
          type="button"
          className="btn outline"
          aria-disabled={contacts.length >= 12}
          onClick={() => contacts.length < 12 && change([...contacts, 'none'])}
        >
          A contact more
        </button>
        <button
          type="button"
          className="btn outline"
          aria-disabled={contacts.length <= 2}
          onClick={() => contacts.length > 2 && change(contacts.slice(0, -1))}
        >
          One fewer
        </button>
      </div>
      <h4>Turned in a socket without a key</h4>
      <ul className="turns">
        {turnsOf(contacts).map(turn => (
          <li key={turn.by} className={turn.short ? 'short' : undefined}>
            {turn.says}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Half the sides of the picture, and the radius that the contacts stand on. */
const HALF = 92
const RADIUS = 54

export function PlugPicture({ contacts }: { contacts: Build['contacts'] }) {
  const says = plugOf(contacts)
    .map(({ letter, joined }) => `${letter} ${contactWords[joined].toLowerCase()}`)
    .join(', ')
  return (
    <svg
      className="plug-picture"
      viewBox={`${-HALF} ${-HALF} ${2 * HALF} ${2 * HALF + 16}`}
      role="img"
      aria-label={`The plug seen from the solder side, clockwise: ${says}`}
    >
      <circle className="shell" r={RADIUS + 24} />
      <path className="key" d={`M-7 ${-RADIUS - 24}v9h14v-9`} />
      {plugOf(contacts).map(({ letter, joined, x, y }) => (
        <g key={letter} className={joined} transform={`translate(${x * RADIUS} ${y * RADIUS})`}>
          <circle r={17} />
          {joined === 'common' && <circle className="common" r={13.5} />}
          <text y={6} textAnchor="middle">
            {contactLetter[joined]}
          </text>
          <text className="letter" x={-x * 30} y={-y * 30 + 4} textAnchor="middle">
            {letter}
          </text>
        </g>
      ))}
      <text className="says" y={HALF + 10} textAnchor="middle">
        seen from the solder side
      </text>
    </svg>
  )
}
