// The start address of a box, the one that is free, and how it is set on switches and on dials.

import { freePlace } from '@glowchart/shared/rig/box-new.ts'
import { outputBytes } from '@glowchart/shared/rig/claims.ts'
import type { Box, Rig } from '@glowchart/shared/rig/schema.ts'
import { type Counting, dialsOf, switchesOf, switchValues } from '@glowchart/shared/rig/switches.ts'
import { useState } from 'react'
import { useDocument } from '../../document/document.ts'
import { changeBox } from '../build/change.ts'
import { Measure } from '../Measure.tsx'

interface Props {
  rig: Rig
  id: string
  box: Box
}

export function AddressGroup({ rig, id, box }: Props) {
  const kit = useDocument(s => s.show?.kits[s.show.tonight])
  const free = freePlace(rig, kit, box, id)
  const isFree = free.universe === box.universe && free.address === box.address
  const end = box.address + box.decoder.channels * outputBytes(box) - 1
  const clash = clashOf(rig, id, box)
  return (
    <section className="group" aria-labelledby="address-title">
      <h3 id="address-title">
        Address <small>{`${box.universe} / ${box.address}–${end}`}</small>
      </h3>
      <div className="row">
        <Measure
          label="Universe"
          whole
          least={1}
          most={63999}
          value={box.universe}
          onChange={universe => changeBox(id, box, 'universe', { universe })}
        />
        <Measure
          label="Start address"
          whole
          least={1}
          most={512}
          value={box.address}
          onChange={address => changeBox(id, box, 'start address', { address })}
        />
        {!isFree && (
          <button
            type="button"
            className="btn outline"
            onClick={() => changeBox(id, box, 'free address', free)}
          >
            Free: {free.universe} / {free.address}
          </button>
        )}
      </div>
      {end > 512 && (
        <p className="says stop">
          Its last channels lie past slot 512: begin earlier, or use another universe.
        </p>
      )}
      {clash && <p className="says stop">{clash}</p>}
      <Switches address={box.address} />
    </section>
  )
}

/** Another box of the rig that listens to some of the same slots, in words. */
function clashOf(rig: Rig, id: string, box: Box): string | null {
  const rangeOf = (one: Box) =>
    [one.address, one.address + one.decoder.channels * outputBytes(one) - 1] as const
  const [from, to] = rangeOf(box)
  const other = Object.entries(rig.boxes).find(([otherId, one]) => {
    const [first, last] = rangeOf(one)
    return otherId !== id && one.universe === box.universe && first <= to && from <= last
  })
  if (!other) return null
  const [first, last] = rangeOf(other[1])
  return `${other[1].name} listens to ${first}–${last} of the same universe. That is well only where both are to do the same.`
}

const countings: Readonly<Record<Counting, readonly [name: string, says: string]>> = {
  sum: ['Sum', 'the switches that are on add up to the address'],
  sumAndOne: ['Sum and one', 'all off is address 1: the switches add up to the address less one'],
}

function Switches({ address }: { address: number }) {
  const [counting, setCounting] = useState<Counting>('sum')
  const on = switchesOf(address, counting)
  const sum = counting === 'sum' ? address : address - 1
  const adds = switchValues.filter((_, i) => on?.[i])
  return (
    <div className="switches">
      <fieldset>
        <legend>Nine switches count</legend>
        {(Object.keys(countings) as Counting[]).map(one => (
          <label key={one}>
            <input
              type="radio"
              name="counting"
              checked={one === counting}
              onChange={() => setCounting(one)}
            />
            {countings[one][0]}
          </label>
        ))}
      </fieldset>
      {on ? <SwitchPicture on={on} address={address} /> : null}
      <p className="says">
        {on
          ? adds.length > 0
            ? `${adds.join(' + ')} = ${sum}${counting === 'sumAndOne' ? `, and one is ${address}` : ''}: ${countings[counting][1]}.`
            : `All off: ${countings[counting][1]}.`
          : 'Nine switches that add up end at 511: choose another address.'}
      </p>
      <p className="note">
        Decoders differ here. If a light answers to its neighbour’s address, one too low or too high, the
        decoder counts the other way: set it by the other counting.
      </p>
      <DialPicture address={address} />
    </div>
  )
}

const STEP = 34

function SwitchPicture({ on, address }: { on: readonly boolean[]; address: number }) {
  const says = on.flatMap((isOn, i) => (isOn ? [i + 1] : [])).join(', ')
  return (
    <svg
      className="switch-picture"
      viewBox={`0 0 ${on.length * STEP + 42} 84`}
      role="img"
      aria-label={`Switches for ${address}: ${says ? `${says} on, the others off` : 'all off'}`}
    >
      <rect className="body" x={1} y={14} width={on.length * STEP + 6} height={48} />
      {on.map((isOn, i) => (
        <g key={switchValues[i]} transform={`translate(${i * STEP + 9} 18)`}>
          <rect className="slot" x={4} y={0} width={16} height={40} />
          <rect
            className={isOn ? 'lever on' : 'lever'}
            x={5.5}
            y={isOn ? 1.5 : 22.5}
            width={13}
            height={16}
          />
          <text x={12} y={-7} textAnchor="middle">
            {i + 1}
          </text>
          <text x={12} y={60} textAnchor="middle">
            {switchValues[i]}
          </text>
        </g>
      ))}
      <text x={on.length * STEP + 14} y={32}>
        on
      </text>
      <text x={on.length * STEP + 14} y={54}>
        off
      </text>
    </svg>
  )
}

const digits = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9] as const

function DialPicture({ address }: { address: number }) {
  const dials = dialsOf(address)
  return (
    <svg className="dial-picture" viewBox="0 0 240 84" role="img" aria-label={`Dials: ${dials.join(' ')}`}>
      {dials.map((digit, i) => {
        const turn = (digit / 10) * 2 * Math.PI
        const names = ['hundreds', 'tens', 'ones']
        return (
          <g key={names[i]} transform={`translate(${40 + i * 78} 36)`}>
            <circle className="body" r={24} />
            {digits.map(n => {
              const at = (n / 10) * 2 * Math.PI
              return (
                <text
                  key={n}
                  className={n === digit ? 'on' : undefined}
                  x={Math.sin(at) * 31}
                  y={4 - Math.cos(at) * 31}
                >
                  {n}
                </text>
              )
            })}
            <path className="hand" d={`M0 0L${Math.sin(turn) * 19} ${-Math.cos(turn) * 19}`} />
            <text className="name" y={47}>
              {names[i]}
            </text>
          </g>
        )
      })}
    </svg>
  )
}
