// What a build is made of, in the figures its owner has: the LEDs of its strip, watts a metre, or amps measured.

import { ampsOf, colourNames, fullAmps } from '@glowchart/shared/power/draw.ts'
import type { Draw } from '@glowchart/shared/rig/electric.ts'
import type { Build } from '@glowchart/shared/rig/schema.ts'
import { Measure } from '../Measure.tsx'
import { changeBuild } from './change.ts'

interface Props {
  id: string
  build: Build
}

const from = {
  strip: 'The LEDs of its strip',
  watts: 'Watts a metre',
  measured: 'Amps measured',
} as const
const METRES = { least: 0, most: 100, unit: 'm' }

export function Made({ id, build }: Props) {
  const { draw } = build
  const change = (what: string, next: Draw) => changeBuild(id, build, what, { draw: next })
  return (
    <section className="group" aria-labelledby="made-title">
      <h3 id="made-title">Made of</h3>
      <fieldset>
        <legend className="sr">What is known of it</legend>
        {(Object.keys(from) as Draw['from'][]).map(kind => (
          <label key={kind}>
            <input
              type="radio"
              name="draw-from"
              checked={draw.from === kind}
              onChange={() => change('what it is made of', known(build, kind))}
            />
            {from[kind]}
          </label>
        ))}
      </fieldset>
      <div className="row">
        <Measure
          label="Volts"
          unit="V"
          least={3}
          most={48}
          value={build.volts}
          onChange={volts => changeBuild(id, build, 'volts', { volts })}
        />
        {draw.from !== 'measured' && (
          <Measure
            label="Strip in it"
            {...METRES}
            value={draw.metres}
            onChange={metres => change('length of strip', { ...draw, metres })}
          />
        )}
        {draw.from === 'watts' && (
          <Measure
            label="At full white"
            unit="W/m"
            least={0}
            most={200}
            value={draw.wattsPerMetre}
            onChange={wattsPerMetre => change('watts a metre', { ...draw, wattsPerMetre })}
          />
        )}
        {draw.from === 'strip' && (
          <>
            <Measure
              label="LEDs a metre"
              least={1}
              most={2000}
              value={draw.ledsPerMetre}
              onChange={ledsPerMetre => change('LEDs a metre', { ...draw, ledsPerMetre })}
            />
            <Measure
              label="LEDs in series"
              least={1}
              most={14}
              whole
              value={draw.inSeries}
              onChange={inSeries => change('LEDs in series', { ...draw, inSeries })}
            />
          </>
        )}
      </div>
      <div className="row">
        {draw.from === 'strip' &&
          colourNames.map(colour => (
            <Measure
              key={colour}
              label={`${word(colour)}, a segment`}
              unit="mA"
              least={0}
              most={1000}
              value={draw.segmentAmps[colour] * 1000}
              onChange={mA =>
                change(`current of ${colour}`, {
                  ...draw,
                  segmentAmps: { ...draw.segmentAmps, [colour]: mA / 1000 },
                })
              }
            />
          ))}
        {draw.from === 'measured' &&
          colourNames.map(colour => (
            <Measure
              key={colour}
              label={word(colour)}
              unit="A"
              least={0}
              most={100}
              value={draw.amps[colour]}
              onChange={a => change(`amps of ${colour}`, { ...draw, amps: { ...draw.amps, [colour]: a } })}
            />
          ))}
      </div>
      {draw.from === 'measured' && (
        <p className="note">
          Measure one colour at a time, full on, at {build.volts} V and with a short, thick cable.
        </p>
      )}
    </section>
  )
}

const word = (colour: string): string => colour[0]!.toUpperCase() + colour.slice(1)

/** The same build told by other figures: what is known already goes over. */
function known(build: Build, kind: Draw['from']): Draw {
  const { draw } = build
  const metres = draw.from === 'measured' ? Math.max(0.1, build.size.long) : draw.metres
  if (kind === 'measured') return { from: 'measured', amps: ampsOf(build) }
  if (kind === 'watts') {
    const wattsPerMetre = Math.min(200, Number(((fullAmps(build) * build.volts) / metres).toFixed(2)))
    return { from: 'watts', metres, wattsPerMetre: Number.isFinite(wattsPerMetre) ? wattsPerMetre : 0 }
  }
  const segmentAmps = { red: 0.02, green: 0.02, blue: 0.02, white: ampsOf(build).white > 0 ? 0.02 : 0 }
  return { from: 'strip', metres, ledsPerMetre: 60, inSeries: 3, segmentAmps }
}
