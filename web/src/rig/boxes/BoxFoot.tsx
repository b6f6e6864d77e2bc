// Under a box's sockets: decoder, mains, its power limit, and the ways to take it off the stage.

import type { BoxLoad } from '@glowchart/shared/power/box.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { edit } from '../../document/editing.ts'
import { Figure } from '../../ui/Figure.tsx'
import { BenchLink } from '../BenchLink.tsx'
import { ampsText } from '../words.ts'

interface Props {
  rig: Rig
  show: Show
  box: string
  load: BoxLoad
  peak: number | null
}

const held = (amps: number): number => Math.min(500, Math.max(0.1, Number(amps.toFixed(1))))

export function BoxFoot({ rig, show, box, load, peak }: Props) {
  const { supply, name } = rig.boxes[box]!
  const kit = show.tonight
  const limit = show.kits[kit]!.boxes[box]!.powerLimit
  const arm = (amps: number | null) => edit('setPowerLimit', { kit, box, amps })
  const decoderText = `${ampsText(load.amps)} of ${ampsText(load.decoder)}`
  return (
    <div className="box-foot">
      <dl>
        <div className={load.amps > load.decoder + 1e-6 ? 'heed' : ''}>
          <dt>Decoder, all white</dt>
          <dd>
            {decoderText}
            {load.amps > load.decoder + 1e-6 && ': more than it may carry'}
          </dd>
        </div>
        <div>
          <dt>Mains, all white</dt>
          <dd>
            {load.mainsAmps.toFixed(2)} A at {supply.mainsVolts} V, {Math.round(load.watts)} W of light and
            cable
          </dd>
        </div>
      </dl>
      <div className="limit">
        <label className="check">
          <input
            type="checkbox"
            checked={limit !== undefined}
            onChange={event => arm(event.target.checked ? held(load.continuous) : null)}
          />
          Power limit
        </label>
        {limit !== undefined && (
          <Figure
            label={`Power limit of ${name}`}
            short="at"
            value={limit}
            first={held(load.continuous)}
            text={ampsText}
            number={amps => amps}
            parse={text => {
              const amps = Number.parseFloat(text.replace(',', '.'))
              return Number.isFinite(amps) ? held(amps) : null
            }}
            step={(amps, n) => held(amps + n * 0.1)}
            onChange={arm}
          />
        )}
        <small>
          {limit === undefined
            ? `Armed, it dims the whole box, its colours kept, whenever more than so many amps are asked for${peak === null ? '' : `; tonight's songs ask for ${ampsText(peak)}`}.`
            : 'Armed for this kit: all of the box is dimmed together, its colours kept.'}
        </small>
      </div>
      <p className="caution">
        Estimates, to be checked with a meter. Mains, supplies and fuses: local electrical code and licensed
        practice come first. Fuse every output for its thinnest conductor.
      </p>
      <div className="row">
        <BenchLink
          on={{ kind: 'box', id: box }}
          says="Edit on the workbench"
          name={`Edit on the workbench: ${name}`}
        />
        <button type="button" className="btn quiet" onClick={() => edit('removeBox', { kit, box })}>
          Take it off the stage
        </button>
      </div>
    </div>
  )
}
