// What a build draws: amps of each colour and of white, watts, weight, and its strip cut to scale.

import { ampsOf, colourNames, cutOf, fullAmps } from '@glowchart/shared/power/draw.ts'
import type { Build } from '@glowchart/shared/rig/schema.ts'
import { Measure } from '../Measure.tsx'
import { changeBuild } from './change.ts'
import { Ruler } from './Ruler.tsx'
import { amps, watts } from './words.ts'

export function Figures({ id, build }: { id: string; build: Build }) {
  const each = ampsOf(build)
  const all = fullAmps(build)
  const cut = cutOf(build)
  return (
    <section className="group" aria-labelledby="figures-title">
      <h3 id="figures-title">Draws, full on</h3>
      <table className="amps">
        <thead>
          <tr>
            {colourNames.map(colour => (
              <th key={colour} scope="col">
                {colour[0]!.toUpperCase() + colour.slice(1)}
              </th>
            ))}
            <th scope="col">All on</th>
            <th scope="col">Power</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            {colourNames.map(colour => (
              <td key={colour}>{each[colour] > 0 ? amps(each[colour]) : 'none'}</td>
            ))}
            <td>
              <b>{amps(all)}</b>
            </td>
            <td>
              <b>{watts(all * build.volts)}</b>
            </td>
          </tr>
        </tbody>
      </table>
      {cut && build.draw.from === 'strip' && <Ruler cut={cut} leds={build.draw.inSeries} />}
      <div className="row">
        <Measure
          label="Weight"
          unit="kg"
          least={0}
          most={500}
          value={build.kilograms}
          onChange={kilograms => changeBuild(id, build, 'weight', { kilograms })}
          onEmpty={() => {
            const { kilograms: _gone, ...rest } = build
            return changeBuild(id, rest, 'weight', {})
          }}
        />
      </div>
      <p className="note">
        Estimates, without a cable: check them with a meter. Local electrical code and a licensed electrician
        come first.
      </p>
    </section>
  )
}
