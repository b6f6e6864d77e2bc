// A build on the workbench: what it looks like, what it is made of, what it draws, how it is plugged, how many there are.

import { type Rig, type Shape, shapes } from '@glowchart/shared/rig/schema.ts'
import { useDocument } from '../../document/document.ts'
import { edit } from '../../document/editing.ts'
import { NameField } from '../../ui/NameField.tsx'
import { Measure } from '../Measure.tsx'
import { Pick } from '../Pick.tsx'
import { BuildPicture } from './BuildPicture.tsx'
import { ChannelGroup } from './ChannelGroup.tsx'
import { changeBuild } from './change.ts'
import { Figures } from './Figures.tsx'
import { Made } from './Made.tsx'
import { Owned } from './Owned.tsx'
import { Parts } from './Parts.tsx'
import { Plug } from './Plug.tsx'
import { shapeWords, sizeWords } from './words.ts'

/** @param build id of a build that the rig has */
export function BuildPanel({ rig, build: id }: { rig: Rig; build: string }) {
  const show = useDocument(s => s.show)
  const build = rig.builds[id]
  if (!build) return null
  const change = changeBuild.bind(null, id, build)
  const [long, across] = sizeWords[build.shape]
  return (
    <article className="bench-panel" aria-label={`Build ${build.name}`} key={id}>
      <header>
        <h2>
          <NameField label="Name of the build" name={build.name} onName={name => change('name', { name })} />
        </h2>
        <button type="button" className="btn quiet" onClick={() => edit('deleteBuild', { build: id })}>
          Delete<span className="sr"> the build {build.name}</span>
        </button>
      </header>
      {show && <BuildPicture build={build} show={show} />}
      <div className="groups">
        <section className="group" aria-labelledby="shape-title">
          <h3 id="shape-title">Shape</h3>
          <div className="row">
            <Pick
              label="Drawn as"
              value={build.shape}
              options={shapes.map(shape => [shape, shapeWords[shape]])}
              onChange={(shape: Shape) => change('shape', { shape })}
            />
            <Measure
              label={long}
              unit="m"
              least={0.01}
              most={20}
              value={build.size.long}
              onChange={to => change('size', { size: { ...build.size, long: to } })}
            />
            <Measure
              label={across}
              unit="m"
              least={0.005}
              most={20}
              value={build.size.across}
              onChange={to => change('size', { size: { ...build.size, across: to } })}
            />
          </div>
          {build.shape === 'letters' && (
            <div className="field">
              What they spell
              <NameField
                label="What they spell"
                name={build.text ?? 'A'}
                onName={text => change('letters', { text: text.slice(0, 12) })}
              />
            </div>
          )}
        </section>
        <Made id={id} build={build} />
        <Figures id={id} build={build} />
        <ChannelGroup id={id} build={build} />
        <Plug id={id} build={build} />
        <Parts id={id} build={build} />
        <Owned rig={rig} build={id} />
      </div>
    </article>
  )
}
