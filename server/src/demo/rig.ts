// What the demo band owns: two boxes and a fly box, sixteen fixtures of four builds. All invented, for the demo.

import { channelsOf } from '@glowchart/shared/rig/channels.ts'
import { RIG_FORMAT, RIG_VERSION, type rigSchema } from '@glowchart/shared/rig/schema.ts'
import type { Written } from './written.ts'

type RigText = Written<typeof rigSchema>
type Box = RigText['boxes'][string]

/** A strip of 60 LEDs a metre, three in series. */
const strip = (metres: number) => ({ from: 'strip' as const, metres, ledsPerMetre: 60 })

/*
 * Currents at 12 V. RGB strip of 60 LEDs a metre takes 1.2 A a metre at full white, 14.4 W/m; a segment of three LEDs
 * takes 60 mA, 20 mA a colour (Adafruit, "RGB LED strips"). The lengths of strip are invented, for the demo.
 */
const builds: RigText['builds'] = {
  tube: {
    name: 'Tube, 1.2 m',
    shape: 'tube',
    size: { long: 1.2, across: 0.04 },
    cells: 1,
    channels: channelsOf('rgb', 1),
    draw: strip(1.2),
    note: '1.2 m of strip, 1.44 A at full white, in an opal pipe on a foot of plywood.',
  },
  bulb: {
    name: 'Bulb',
    shape: 'bulb',
    size: { long: 0.14, across: 0.14 },
    cells: 1,
    channels: channelsOf('grb', 1),
    draw: strip(0.15),
    note: 'Three segments of strip around a cork, 0.18 A at full white, in a glass globe. Red and green are crossed at the plug.',
  },
  ring: {
    name: 'Ring, 60 cm',
    shape: 'ring',
    size: { long: 0.6, across: 0.6 },
    cells: 1,
    channels: channelsOf('rgb', 1),
    draw: strip(1.9),
    note: '1.9 m of strip in an old wheel rim, 2.28 A at full white.',
  },
  letters: {
    name: 'Letters OH',
    shape: 'letters',
    text: 'OH',
    size: { long: 1.1, across: 0.6 },
    cells: 1,
    channels: channelsOf('rgb', 1),
    draw: strip(2.8),
    note: 'An O and an H, 2.8 m of strip, 3.36 A at full white. Three of them, one for each Oh.',
  },
}

/** A box of eight sockets on a 24-channel decoder; three outputs a socket. `lengths`: cables, in metres. */
function box(name: string, address: number, amps: number, lengths: readonly number[]): Box {
  return {
    name,
    supply: { volts: 12, amps, continuousShare: 0.8 },
    decoder: { channels: 24, bits: 8, ampsPerChannel: 3 },
    universe: 1,
    address,
    sockets: lengths.map((length, i) => ({
      id: `s${i + 1}`,
      label: `${i + 1}`,
      channels: 3,
      cable: { length, wire: { awg: 16 }, conductors: 4 },
      fuse: 5,
    })),
  }
}

const boxes: RigText['boxes'] = {
  left: box('Box A', 1, 20, [9, 9, 7, 7, 5, 5, 5, 5]),
  right: box('Box B', 25, 20, [9, 7, 7, 5, 7, 5, 5, 5]),
  fly: box('Fly box', 49, 12.5, [7, 5, 5, 7, 4, 4, 4, 5]),
}

const count: Record<string, { name: string; serial: string; of: number }> = {
  letters: { name: 'Oh', serial: 'OH', of: 3 },
  bulb: { name: 'Bulb', serial: 'BU', of: 4 },
  ring: { name: 'Ring', serial: 'RG', of: 2 },
  tube: { name: 'Tube', serial: 'TU', of: 7 },
}

/** Fixtures by id: letters1…3, bulb1…4, ring1…2, tube1…7. */
const fixtures: RigText['fixtures'] = Object.fromEntries(
  Object.entries(count).flatMap(([build, { name, serial, of }]) =>
    Array.from({ length: of }, (_, i) => [
      `${build}${i + 1}`,
      { name: `${name} ${i + 1}`, build, serial: `${serial}-${String(i + 1).padStart(3, '0')}` },
    ]),
  ),
)

export const rig: RigText = {
  format: RIG_FORMAT,
  version: RIG_VERSION,
  id: 'rehearsal-barn',
  name: 'The rehearsal barn',
  builds,
  boxes,
  fixtures,
}
