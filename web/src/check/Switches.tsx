// A start address as it stands on nine binary switches, for decoders that count from 1 and those that count from 0.

import { type Counting, dialsOf, switchesOf, switchValues } from '@glowchart/shared/rig/switches.ts'

export function Switches({ address }: { address: number }) {
  return (
    <div className="switches">
      <Bank address={address} counting="sum" says={`Sum ${address}`} />
      <Bank address={address} counting="sumAndOne" says={`Counts from 0: sum ${address - 1}`} />
      <p>
        Dials <b>{dialsOf(address).join(' ')}</b>
      </p>
    </div>
  )
}

function Bank({ address, counting, says }: { address: number; counting: Counting; says: string }) {
  const on = switchesOf(address, counting)
  if (!on) return null
  const up = switchValues.flatMap((_, i) => (on[i] ? [i + 1] : []))
  return (
    <figure>
      <svg
        viewBox="0 0 198 52"
        role="img"
        aria-label={`${says}: ${up.length === 0 ? 'all off' : `on: ${up.join(', ')}`}`}
      >
        {switchValues.map((value, i) => (
          <g key={value} transform={`translate(${i * 22 + 1} 1)`}>
            <rect width="18" height="34" className="slot" />
            <rect x="2" y={on[i] ? 2 : 18} width="14" height="14" className={on[i] ? 'on' : 'off'} />
            <text x="9" y="47" textAnchor="middle">
              {i + 1}
            </text>
          </g>
        ))}
      </svg>
      <figcaption>{says}; up is on</figcaption>
    </figure>
  )
}
