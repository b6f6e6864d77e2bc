// The kits of the show: which stands tonight, its stage; others looked at, duplicated, renamed, deleted.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Stage } from '@glowchart/shared/rig/stage.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import { edit } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { Figure } from '../../ui/Figure.tsx'
import { NameField } from '../../ui/NameField.tsx'
import { useRigChoice } from '../choice.ts'
import { lengthScale, useLengthUnit } from '../length.ts'
import './kits.css'
import { PartsTonight } from './PartsTonight.tsx'
import { RetargetView } from './RetargetView.tsx'

export function Kits({ rig, show, stage }: { rig: Rig; show: Show; stage: Stage }) {
  const looked = useRigChoice(s => s.kit)
  const tonight = show.kits[show.tonight]!
  const inOrder = Object.entries(show.kits).sort(
    ([a], [b]) => Number(b === show.tonight) - Number(a === show.tonight),
  )
  const freeName = (base: string): string => {
    const names = new Set(Object.values(show.kits).map(kit => kit.name))
    for (let n = 2; ; n++) if (!names.has(`${base} ${n}`)) return `${base} ${n}`.slice(0, 80)
  }
  return (
    <div className="kits">
      <h2>Kits</h2>
      <p>What stands where. The same songs play on every kit.</p>
      <ul>
        {inOrder.map(([id, kit]) => {
          const isTonight = id === show.tonight
          return (
            <li key={id} className={isTonight ? 'tonight' : ''}>
              <div className="head">
                <NameField
                  label={`Name of the kit ${kit.name}`}
                  name={kit.name}
                  onName={name => edit('renameKit', { kit: id, name })}
                />
                <span>{isTonight ? 'tonight' : ''}</span>
              </div>
              <p>{sizeText(rig, kit)}</p>
              {isTonight && <StageSize kitId={id} kit={kit} />}
              {isTonight && <PartsTonight show={show} stage={stage} />}
              <div className="row">
                {!isTonight && (
                  <button
                    type="button"
                    className="btn go"
                    aria-expanded={looked === id}
                    onClick={() => useRigChoice.setState({ kit: looked === id ? null : id })}
                  >
                    {looked === id ? 'Look away' : 'Look before you play on it'}
                  </button>
                )}
                <button
                  type="button"
                  className="btn"
                  onClick={() =>
                    edit('duplicateKit', { kit: id, as: newId('kit'), name: freeName(kit.name) })
                  }
                >
                  Duplicate
                </button>
                {!isTonight && (
                  <button type="button" className="btn quiet" onClick={() => edit('deleteKit', { kit: id })}>
                    Delete
                  </button>
                )}
              </div>
              {looked === id && !isTonight && <RetargetView {...{ rig, show, to: id }} />}
            </li>
          )
        })}
      </ul>
      <button
        type="button"
        className="btn outline"
        onClick={() => edit('addKit', { kit: newId('kit'), name: freeName('Kit'), stage: tonight.stage })}
      >
        Add an empty kit
      </button>
    </div>
  )
}

function sizeText(rig: Rig, kit: Kit): string {
  const boxes = Object.keys(kit.boxes).filter(id => rig.boxes[id])
  const sockets = boxes.reduce((sum, id) => sum + rig.boxes[id]!.sockets.length, 0)
  const lights = boxes.reduce((sum, id) => sum + Object.keys(kit.boxes[id]!.sockets).length, 0)
  const guests = Object.keys(kit.guests).length
  const count = (n: number, one: string, many = `${one}s`) => `${n} ${n === 1 ? one : many}`
  const words = [count(boxes.length, 'box', 'boxes'), `${count(lights, 'light')} in ${sockets} sockets`]
  if (guests > 0) words.push(count(guests, 'guest'))
  return words.join(', ')
}

function StageSize({ kitId, kit }: { kitId: string; kit: Kit }) {
  const unit = useLengthUnit()
  const sides = [
    ['width', 'Width', 60],
    ['depth', 'Depth', 40],
    ['height', 'Height', 30],
  ] as const
  return (
    <div className="figures">
      {sides.map(([side, short, most]) => (
        <Figure
          key={side}
          {...lengthScale(unit, 1, most)}
          label={`${short} of the stage`}
          short={short}
          value={kit.stage[side]}
          onChange={to => edit('setStage', { kit: kitId, stage: { ...kit.stage, [side]: to } })}
        />
      ))}
    </div>
  )
}
