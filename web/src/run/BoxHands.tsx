// A box that dies in the show, behind the guard: its places in the parts go to what is left, and back.

import { boxIsOut } from '@glowchart/shared/rig/dead-box.ts'
import { usePending, usePlayed } from '../version/running.ts'
import { pluggedBoxes, turnBox } from './dead-box.ts'
import { HoldButton } from './HoldButton.tsx'

export function BoxHands() {
  const played = usePlayed()
  const pending = usePending()
  if (!played) return null
  const { rig, show } = played
  const kit = show.kits[show.tonight]!
  // The kit is taken in as a whole.
  const others = pending.some(({ of }) => 'group' in of && of.group === 'kit')
  const withOthers = others ? ', with the other changes of the kit' : ''
  return (
    <>
      <h2>Boxes</h2>
      <div className="acts">
        {pluggedBoxes(kit).map(box => {
          const isOut = boxIsOut(kit, box)
          const name = rig.boxes[box]?.name ?? box
          return (
            <HoldButton
              key={box}
              fire={() => {
                void turnBox(box)
                return undefined
              }}
            >
              <b>{isOut ? `Play with ${name} again` : `Play without ${name}`}</b>
              <small>
                {isOut ? 'Its lights take their places again' : 'If it died: its places go to what is left'}
                {withOthers}
              </small>
            </HoldButton>
          )
        })}
      </div>
    </>
  )
}
