// A light at the end of its cable: the currents, volts, brightness and colour that settle there.

import { chromaticityShift } from '../light/chromaticity.ts'
import type { Cable } from '../rig/electric.ts'
import type { Build } from '../rig/schema.ts'
import { ampsOf, type ColourName, colourNames } from './draw.ts'
import { resistancePerMetre } from './wire.ts'

type Currents = Readonly<Record<ColourName, number>>

/** Resistance from the supply to the light and back: the shared conductor, and each colour's own. */
export interface Path {
  /** Ω of the conductor that all colours share. */
  readonly common: number
  /** Ω of each colour's own conductor. */
  readonly own: number
}

/** A cable with one conductor for the common and one for each colour, at a temperature. */
export function pathOf(cable: Cable, celsius: number): Path {
  const ohms = resistancePerMetre(cable.wire, celsius) * cable.length
  return { common: ohms, own: ohms }
}

/**
 * Volts lost on the way to a colour that takes `amps` of it while all together take `all`: common·Σ + own·I. With
 * equal colours that is 4/3 of I·R, not twice (the shared conductor carries all of them, each return only its own).
 */
export const dropOf = (path: Path, amps: number, all: number): number => path.common * all + path.own * amps

/**
 * The currents that settle when some colours are switched on: each is LEDs in series with a resistor, so that
 * I = (V − V_f) / R with R from its nominal current, and V is what the others leave of the supply. Solved exactly:
 * Σ follows from one division, and a colour whose LEDs would not conduct is left out, the least driven first.
 * @param volts of the supply
 */
export function settled(
  build: Pick<Build, 'draw' | 'volts' | 'forwardVolts'>,
  path: Path,
  volts: number,
  on: readonly ColourName[] = colourNames,
): Currents {
  const nominal = ampsOf(build)
  const branches = on
    .filter(colour => nominal[colour] > 0 && build.forwardVolts[colour] < build.volts)
    .map(colour => {
      const forward = build.forwardVolts[colour]
      return { colour, head: volts - forward, ohms: (build.volts - forward) / nominal[colour] + path.own }
    })
    .filter(branch => branch.head > 0)
    .sort((a, b) => b.head - a.head)
  let all = 0
  while (branches.length > 0) {
    const driven = branches.reduce((sum, { head, ohms }) => sum + head / ohms, 0)
    const conductance = branches.reduce((sum, { ohms }) => sum + 1 / ohms, 0)
    all = driven / (1 + path.common * conductance)
    if (branches.at(-1)!.head > path.common * all) break
    branches.pop()
    all = 0
  }
  const currents: Record<ColourName, number> = { red: 0, green: 0, blue: 0, white: 0 }
  for (const { colour, head, ohms } of branches) currents[colour] = (head - path.common * all) / ohms
  return currents
}

/** What a cable does to a light, full on. */
export interface AtTheLight {
  readonly amps: Currents
  /** Amps in the common conductor and pin. */
  readonly common: number
  /** Volts left at the light for the colour that has the least. */
  readonly volts: number
  /** Watts that warm the cable. */
  readonly cableWatts: number
  /** Light of all colours together against the light without a cable, 0…1, by the colours' luminance. */
  readonly brightness: number
  /** Δu′v′ of its white against its white without a cable; 0 for a build without three colours. */
  readonly shift: number
}

/**
 * A light full on at the end of its path. Light is taken to follow the current, and the colours to be those of sRGB:
 * an estimate, to be checked with a meter and the eye.
 */
export function atTheLight(
  build: Pick<Build, 'draw' | 'volts' | 'forwardVolts'>,
  path: Path,
  volts: number,
): AtTheLight {
  const amps = settled(build, path, volts)
  const nominal = ampsOf(build)
  const common = colourNames.reduce((sum, colour) => sum + amps[colour], 0)
  const drops = colourNames.map(colour => (amps[colour] > 0 ? dropOf(path, amps[colour], common) : 0))
  const own = colourNames.reduce((sum, colour) => sum + amps[colour] ** 2, 0)
  const share = (colour: ColourName): number => (nominal[colour] > 0 ? amps[colour] / nominal[colour] : 0)
  const light = [share('red'), share('green'), share('blue')] as const
  const has = (colour: ColourName): number => (nominal[colour] > 0 ? 1 : 0)
  const weight = { red: 0.2126, green: 0.7152, blue: 0.0722, white: 1 }
  const full = colourNames.reduce((sum, colour) => sum + weight[colour] * has(colour), 0)
  const given = colourNames.reduce((sum, colour) => sum + weight[colour] * share(colour), 0)
  const whole = has('red') + has('green') + has('blue') === 3 && light.some(part => part > 0)
  return {
    amps,
    common,
    volts: volts - Math.max(...drops),
    cableWatts: path.common * common ** 2 + path.own * own,
    brightness: full > 0 ? given / full : 0,
    shift: whole ? chromaticityShift(light, [1, 1, 1]) : 0,
  }
}
