// Looking for a fault: one question at a time, then a remedy; the light stays up meanwhile.

import type { Remedy } from '@glowchart/shared/check/fault-nodes.ts'
import type { Run } from '@glowchart/shared/check/run.ts'
import type { Group } from '@glowchart/shared/check/stations.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { Sign } from '../ui/signs.tsx'
import { answer, nodeOf, noteFault, press, stationsOf, take, useChecking } from './checking.ts'
import { Who } from './LightPanel.tsx'
import { Switches } from './Switches.tsx'

interface Props {
  groups: readonly Group[]
  run: Run
  rig: Rig
}

export function FaultPanel({ groups, run, rig }: Props) {
  const checking = useChecking()
  const node = nodeOf(checking)
  const stations = stationsOf(groups)
  const station = stations.find(({ key }) => key === run.at)
  const tried = stations.find(({ key }) => key === run.trying)
  if (!node || !station) return null
  const box = node.kind === 'question' && node.switches ? rig.boxes[node.switches] : undefined
  return (
    <div className="faults">
      <Who station={station} />
      {tried && (
        <p className="spot" role="status">
          {tried.boxName}, socket {tried.label || tried.name} is raised to try a plug.
        </p>
      )}
      {node.kind === 'question' ? (
        <>
          <h3>{node.asks}</h3>
          {node.knows && (
            <ul className="knows">
              {node.knows.map(says => (
                <li key={says}>{says}</li>
              ))}
            </ul>
          )}
          {box && <Switches address={box.address} />}
          <div className="answers">
            {node.answers.map(({ id, says }) => (
              <button key={id} type="button" className="btn outline" onClick={() => answer(id)}>
                {says}
              </button>
            ))}
          </div>
        </>
      ) : (
        <Found remedy={node} />
      )}
      <div className="back">
        {checking.answers.length > 0 && (
          <button type="button" className="btn quiet" onClick={() => answer(null)}>
            One question back
          </button>
        )}
        <button type="button" className="btn quiet" onClick={() => press({ do: 'again' })}>
          It lights after all
        </button>
        {node.kind === 'question' && (
          <button type="button" className="btn quiet" onClick={() => noteFault(null)}>
            Fail it, look later
          </button>
        )}
      </div>
    </div>
  )
}

function Found({ remedy }: { remedy: Remedy }) {
  const { finds, steps, fault, offer } = remedy
  return (
    <>
      <div className="fix">
        <h3>
          <Sign name="cross" /> Found
        </h3>
        <p>{finds}.</p>
      </div>
      <ol className="remedy">
        {steps.map(step => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      {fault && <p className="spot">Stays open with its serial: “{fault}”.</p>}
      <div className="answers">
        {offer && (
          <button type="button" className="btn outline" onClick={() => take(offer)}>
            {offer.says}
          </button>
        )}
        <button type="button" className="btn outline" onClick={() => press({ do: 'again' })}>
          Check it again
        </button>
        <button type="button" className="btn go" onClick={() => noteFault(remedy)}>
          Write it down, dark
        </button>
      </div>
    </>
  )
}
