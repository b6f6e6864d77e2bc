// A box on the workbench: its supply, its decoder, the address on its switches, and its sockets.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { edit } from '../../document/editing.ts'
import { NameField } from '../../ui/NameField.tsx'
import { changeBox } from '../build/change.ts'
import { AddressGroup } from './Address.tsx'
import { SocketsGroup } from './Sockets.tsx'
import { DecoderGroup, SupplyGroup } from './Supply.tsx'

/** @param box id of a box that the rig has */
export function BoxPanel({ rig, box: id }: { rig: Rig; box: string }) {
  const box = rig.boxes[id]
  if (!box) return null
  return (
    <article className="bench-panel" aria-label={`Box ${box.name}`} key={id}>
      <header>
        <h2>
          <NameField
            label="Name of the box"
            name={box.name}
            onName={name => changeBox(id, box, 'name', { name })}
          />
        </h2>
        <button type="button" className="btn quiet" onClick={() => edit('deleteBox', { box: id })}>
          Delete<span className="sr"> {box.name}</span>
        </button>
      </header>
      <div className="groups">
        <SupplyGroup id={id} box={box} />
        <DecoderGroup id={id} box={box} />
        <AddressGroup rig={rig} id={id} box={box} />
        <SocketsGroup rig={rig} id={id} box={box} />
      </div>
    </article>
  )
}
