// Where a light stands, typed: across from the centre line, upstage of the front edge, its height, and its turn.

import type { Place } from '@glowchart/shared/show/fields.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { Figure } from '../../ui/Figure.tsx'
import { lengthScale, useLengthUnit } from '../length.ts'

interface Props {
  name: string
  place: Place
  /** Degrees, clockwise as the house sees it; left out for what has none. */
  turn?: number
  stage: Kit['stage']
  onPlace: (place: Place) => unknown
  onTurn?: (turn: number) => unknown
}

const axes = [
  ['x', 'Across'],
  ['y', 'Upstage'],
  ['z', 'Height'],
] as const

const held = (turn: number): number => Math.min(360, Math.max(-360, Math.round(turn)))

export function PlaceFigures({ name, place, turn, stage, onPlace, onTurn }: Props) {
  const unit = useLengthUnit()
  const bounds = {
    x: [-stage.width / 2 - 1, stage.width / 2 + 1],
    y: [-1, stage.depth + 1],
    z: [0, 30],
  } as const
  return (
    <>
      {axes.map(([axis, short]) => (
        <Figure
          key={axis}
          {...lengthScale(unit, bounds[axis][0], bounds[axis][1])}
          label={`${short} of ${name}`}
          short={short}
          value={place[axis]}
          onChange={to => onPlace({ ...place, [axis]: to })}
        />
      ))}
      {turn !== undefined && onTurn && (
        <Figure
          label={`Turn of ${name}`}
          short="Turn"
          value={turn}
          first={0}
          text={degrees => `${degrees}°`}
          number={degrees => degrees}
          parse={text => {
            const degrees = Number.parseFloat(text.replace(',', '.').replace('−', '-'))
            return Number.isFinite(degrees) ? held(degrees) : null
          }}
          step={(degrees, n) => held(degrees + n)}
          onChange={onTurn}
        />
      )}
    </>
  )
}
