// The ways to a new build: one of the shapes, a file from a fixture's maker, or a walk through its slots.

import { newBuild } from '@glowchart/shared/rig/build-new.ts'
import { type Rig, type Shape, shapes } from '@glowchart/shared/rig/schema.ts'
import { edit } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { BuildSign } from '../../rig/tray/BuildSign.tsx'
import { putOnBench } from '../chosen.ts'
import { shapeWords } from './words.ts'

export function NewBuild({ rig }: { rig: Rig }) {
  const make = async (shape: Shape) => {
    const build = newId('build')
    const answer = edit('setBuild', { build, value: newBuild(shape, rig.builds) })
    putOnBench({ kind: 'build', id: build })
    await answer
  }
  return (
    <div className="new-build">
      <fieldset>
        <legend>New build</legend>
        {shapes.map(shape => (
          <button key={shape} type="button" className="btn" onClick={() => make(shape)}>
            <BuildSign shape={shape} />
            <span>
              <span className="sr">New: </span>
              {shapeWords[shape]}
            </span>
          </button>
        ))}
      </fieldset>
      <p>
        Rented:{' '}
        <button type="button" className="word" onClick={() => putOnBench({ kind: 'file' })}>
          from a GDTF file
        </button>
        , or{' '}
        <button type="button" className="word" onClick={() => putOnBench({ kind: 'walk' })}>
          find out slot by slot
        </button>
        .
      </p>
    </div>
  )
}
