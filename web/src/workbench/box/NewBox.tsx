// A new box: eight sockets at the first free address.

import { newBox } from '@glowchart/shared/rig/box-new.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { useDocument } from '../../document/document.ts'
import { edit } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { putOnBench } from '../chosen.ts'

export function NewBox({ rig }: { rig: Rig }) {
  const kit = useDocument(s => s.show?.kits[s.show.tonight])
  const make = async () => {
    const box = newId('box')
    const answer = edit('setBox', { box, value: newBox(rig, kit) })
    putOnBench({ kind: 'box', id: box })
    await answer
  }
  return (
    <button type="button" className="btn outline" onClick={make}>
      New box
    </button>
  )
}
