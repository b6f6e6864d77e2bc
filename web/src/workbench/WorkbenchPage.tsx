// The workbench: all that is owned, build by build and box by box, and the one that is being worked on.

import { fullAmps } from '@glowchart/shared/power/draw.ts'
import { slotsOf } from '@glowchart/shared/rig/channels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useRef } from 'react'
import { useDocument } from '../document/document.ts'
import { edit } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { Head } from '../Head.tsx'
import { NameField } from '../ui/NameField.tsx'
import { Sign } from '../ui/signs.tsx'
import './bench.css'
import './box/box.css'
import './build/build.css'
import { BuildSign } from '../rig/tray/BuildSign.tsx'
import { BoxPanel } from './box/BoxPanel.tsx'
import { NewBox } from './box/NewBox.tsx'
import { BuildPanel } from './build/BuildPanel.tsx'
import { GdtfPanel } from './build/GdtfPanel.tsx'
import { NewBuild } from './build/NewBuild.tsx'
import { SlotWalker } from './build/SlotWalker.tsx'
import { amps } from './build/words.ts'
import { type OnTheBench, putOnBench, useBench } from './chosen.ts'

export default function WorkbenchPage() {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const chosen = useBench(s => s.chosen)
  const problem = useSession(s => s.problem)
  const work = useRef<HTMLDivElement>(null)
  const isFirst = useRef(true)
  // What was chosen comes to the keyboard, and into view where the lists stand over it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: whenever something else is chosen.
  useEffect(() => {
    if (!isFirst.current) {
      work.current?.focus({ preventScroll: true })
      work.current?.scrollTo(0, 0)
      if (matchMedia('(max-width: 760px)').matches) work.current?.scrollIntoView()
    }
    isFirst.current = false
  }, [chosen])
  return (
    <div className="bench">
      <header className="bench-head">
        <Head />
        <h1>Workbench</h1>
        {rig && (
          <NameField label="Name of the rig" name={rig.name} onName={name => edit('renameRig', { name })} />
        )}
      </header>
      {rig && <Lists rig={rig} chosen={chosen} />}
      <div className="bench-work" ref={work} tabIndex={-1}>
        <p className="fault" role="alert">
          {problem && `${problem.where}: ${problem.message}. ${problem.remedy}`}
        </p>
        {rig && show && <Chosen rig={rig} show={show} chosen={chosen} />}
      </div>
    </div>
  )
}

interface Props {
  rig: Rig
  chosen: OnTheBench
}

function Chosen({ rig, show, chosen }: Props & { show: Show }) {
  switch (chosen?.kind) {
    case 'build':
      return <BuildPanel key={chosen.id} rig={rig} build={chosen.id} />
    case 'box':
      return <BoxPanel key={chosen.id} rig={rig} box={chosen.id} />
    case 'file':
      return <GdtfPanel rig={rig} />
    case 'walk':
      return <SlotWalker rig={rig} show={show} />
    default:
      return <p className="says">Choose a build or a box, or begin a new one.</p>
  }
}

function Lists({ rig, chosen }: Props) {
  const isChosen = (kind: 'build' | 'box', id: string) =>
    chosen !== null && chosen.kind === kind && 'id' in chosen && chosen.id === id
  const count = (build: string) => Object.values(rig.fixtures).filter(one => one.build === build)
  return (
    <nav className="bench-lists" aria-label="What is owned">
      <h2>Builds</h2>
      <ul>
        {Object.entries(rig.builds).map(([id, build]) => {
          const owned = count(id)
          const faults = owned.filter(fixture => fixture.faults.length > 0).length
          return (
            <li key={id}>
              <button
                type="button"
                aria-current={isChosen('build', id) ? 'true' : undefined}
                onClick={() => putOnBench({ kind: 'build', id })}
              >
                <BuildSign shape={build.shape} />
                <b>{build.name}</b>
                <small>
                  {owned.length} owned, {amps(fullAmps(build))}, {slotsOf(build.channels)} slots
                  {faults > 0 && (
                    <>
                      {', '}
                      <Sign name="specs" /> {faults} with faults
                    </>
                  )}
                </small>
              </button>
            </li>
          )
        })}
      </ul>
      <NewBuild rig={rig} />
      <h2>Boxes</h2>
      <ul>
        {Object.entries(rig.boxes).map(([id, box]) => (
          <li key={id}>
            <button
              type="button"
              aria-current={isChosen('box', id) ? 'true' : undefined}
              onClick={() => putOnBench({ kind: 'box', id })}
            >
              <Sign name="cable" />
              <b>{box.name}</b>
              <small>
                {box.sockets.length} sockets, {box.universe} / {box.address}, {box.supply.amps} A
              </small>
            </button>
          </li>
        ))}
      </ul>
      <NewBox rig={rig} />
    </nav>
  )
}
