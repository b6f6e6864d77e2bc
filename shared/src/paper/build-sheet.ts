// The sheet of a build: what it measures, how its strip is cut, what it draws, how its plug is wired, what it costs.

import { ampsOf, colourNames, cutOf, fullAmps } from '../power/draw.ts'
import { costOf, partsNeeded } from '../rig/build-parts.ts'
import { turnsOf } from '../rig/contacts.ts'
import type { Build, Channel, Rig } from '../rig/schema.ts'
import { ampsText, feetText, metresText, wattsText } from './words.ts'

export interface BuildSheet {
  readonly build: string
  readonly name: string
  readonly value: Build
  /** Label and value, in the order they are read. */
  readonly facts: readonly (readonly [string, string])[]
  readonly cuts: readonly string[]
  /** Colour, amps at full; then white. */
  readonly draws: readonly (readonly [string, string])[]
  /** What every turn of an unkeyed plug gives. */
  readonly turns: readonly string[]
  readonly parts: readonly { what: string; count: number; price: number | null; sum: number | null }[]
  /** Of the parts that have a price; null when none has one. */
  readonly price: number | null
  readonly serials: readonly { serial: string; name: string; faults: readonly string[] }[]
}

/** “red 1, green 1, blue 1”: what each channel does, by cell where there are several. */
const channelText = (channel: Channel, cells: number): string =>
  'cell' in channel
    ? `${channel.does}${cells > 1 ? ` ${channel.cell + 1}` : ''}`
    : channel.does === 'fixed'
      ? `${channel.label ?? 'parked'} at ${Math.round(channel.value * 255)}`
      : 'intensity'

export function buildSheet(rig: Rig, id: string): BuildSheet {
  const build = rig.builds[id]!
  const { size, volts, cells, channels, draw } = build
  const amps = ampsOf(build)
  const cut = cutOf(build)
  const full = fullAmps(build)
  const order = channels.length > 24 ? channels.slice(0, 24) : channels
  const facts: [string, string][] = [
    ['Size', `${metresText(size.long)} × ${metresText(size.across)}`],
    ['', `${feetText(size.long)} × ${feetText(size.across)}`],
    ['Made for', `${volts} V`],
    ['Cells', `${cells}`],
    [
      'Channels',
      `${channels.length}: ${order.map(c => channelText(c, cells)).join(', ')}${order.length < channels.length ? ' …' : ''}`,
    ],
  ]
  if (build.kilograms !== undefined) facts.push(['Weight', `${build.kilograms} kg`])
  const cuts: string[] = []
  if (cut && draw.from === 'strip') {
    cuts.push(
      `Strip of ${draw.ledsPerMetre} LEDs a metre, ${draw.inSeries} in series: segments of ${(cut.segmentMetres * 100).toFixed(1)} cm`,
      `Cut ${cut.segments} whole segments: ${metresText(cut.metres)} (${feetText(cut.metres)})`,
    )
    if (cut.over > 0.001)
      cuts.push(`Left over of ${metresText(draw.metres)}: ${(cut.over * 100).toFixed(1)} cm`)
    if (cells > 1) {
      cuts.push(`${cells} cells of ${Number((cut.segments / cells).toFixed(2))} segments each`)
    }
  } else if (draw.from === 'watts') {
    cuts.push(`${metresText(draw.metres)} of strip at ${draw.wattsPerMetre} W a metre`)
  }
  const draws: [string, string][] = colourNames.flatMap(colour =>
    amps[colour] > 0 ? [[colour, ampsText(amps[colour])] as [string, string]] : [],
  )
  if (full > 0) draws.push(['everything on', `${ampsText(full)}, ${wattsText(full * volts)}`])
  // Before its owner has written a list: what its own figures ask for.
  const list = build.parts.length > 0 ? build.parts : partsNeeded(build)
  const parts = list.map(({ what, count, price }) => ({
    what,
    count,
    price: price ?? null,
    sum: price === undefined ? null : price * count,
  }))
  const { sum, unpriced } = costOf(list)
  return {
    build: id,
    name: build.name,
    value: build,
    facts,
    cuts,
    draws,
    turns: turnsOf(build.contacts).map(turn => turn.says),
    parts,
    price: unpriced === list.length ? null : sum,
    serials: Object.values(rig.fixtures)
      .filter(fixture => fixture.build === id)
      .map(({ serial, name, faults }) => ({ serial, name, faults: faults.map(fault => fault.what) })),
  }
}
