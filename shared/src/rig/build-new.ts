// What a new build starts as: a usual size and a usual strip for its shape, three colours, one cell.

import { channelsOf } from './channels.ts'
import { type Build, rigSchema, type Shape } from './schema.ts'

/** A strip as it is commonly sold: 60 LEDs a metre, 12 V, three in series, 20 mA a colour (common practice, no source). */
const strip = (metres: number) => ({ from: 'strip', metres, ledsPerMetre: 60 })

const starts: Readonly<Record<Shape, { name: string; long: number; across: number; metres: number }>> = {
  tube: { name: 'Tube', long: 1.2, across: 0.04, metres: 1.2 },
  bulb: { name: 'Bulb', long: 0.14, across: 0.14, metres: 0.15 },
  ring: { name: 'Ring', long: 0.6, across: 0.6, metres: 1.9 },
  letters: { name: 'Letter', long: 0.6, across: 0.6, metres: 1.4 },
  bar: { name: 'Bar', long: 1, across: 0.06, metres: 1 },
  panel: { name: 'Panel', long: 0.6, across: 0.4, metres: 3 },
  line: { name: 'Line', long: 2, across: 0.02, metres: 2 },
}

/** A build to begin with. Its name is the shape's; where the rig has that already, with the next number. */
export function newBuild(shape: Shape, builds: Readonly<Record<string, Build>>): Build {
  const { name, long, across, metres } = starts[shape]
  return rigSchema.shape.builds.valueType.parse({
    name: freeName(name, builds),
    shape,
    ...(shape === 'letters' ? { text: 'A' } : {}),
    size: { long, across },
    cells: 1,
    channels: channelsOf('rgb', 1),
    draw: strip(metres),
  })
}

/** The name, or the name and the first number from 2 that nothing in the list has. */
export function freeName(name: string, list: Readonly<Record<string, { name: string }>>): string {
  const taken = new Set(Object.values(list).map(item => item.name))
  if (!taken.has(name)) return name
  let number = 2
  while (taken.has(`${name} ${number}`)) number++
  return `${name} ${number}`
}
