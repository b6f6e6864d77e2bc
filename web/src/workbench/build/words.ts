// The words for a build's shapes, colours and channels, as they stand on the workbench.

import type { contacts } from '@glowchart/shared/rig/electric.ts'
import type { Channel, Shape } from '@glowchart/shared/rig/schema.ts'

export const shapeWords: Readonly<Record<Shape, string>> = {
  tube: 'Tube',
  bulb: 'Bulb',
  ring: 'Ring',
  letters: 'Letters',
  bar: 'Bar',
  panel: 'Panel',
  line: 'Free line',
}

/** What the two sizes of a shape are. */
export const sizeWords: Readonly<Record<Shape, readonly [long: string, across: string]>> = {
  tube: ['Height', 'Diameter'],
  bulb: ['Height', 'Diameter'],
  ring: ['Diameter', 'The other way'],
  letters: ['Width', 'Height'],
  bar: ['Width', 'Height'],
  panel: ['Width', 'Height'],
  line: ['Length', 'Thickness'],
}

export const channelWords: Readonly<Record<Channel['does'], string>> = {
  red: 'Red',
  green: 'Green',
  blue: 'Blue',
  white: 'White',
  intensity: 'Intensity',
  fixed: 'Parked',
}

type Joined = (typeof contacts)[number]

export const contactWords: Readonly<Record<Joined, string>> = {
  common: 'Common +',
  red: 'Red',
  green: 'Green',
  blue: 'Blue',
  white: 'White',
  none: 'Not used',
}

/** The one letter that is read beside a contact. */
export const contactLetter: Readonly<Record<Joined, string>> = {
  common: '+',
  red: 'R',
  green: 'G',
  blue: 'B',
  white: 'W',
  none: '',
}

export const orderWords = (order: string): string => order.toUpperCase().split('').join(' ')

/** "1.44 A". */
export const amps = (value: number): string =>
  `${value < 0.1 && value > 0 ? value.toFixed(3) : value.toFixed(2)} A`
export const watts = (value: number): string => `${value.toFixed(1)} W`
/** "1.25 m", "4.2 cm". */
export const metres = (value: number): string =>
  value < 0.1 ? `${Number((value * 100).toFixed(1))} cm` : `${Number(value.toFixed(3))} m`
