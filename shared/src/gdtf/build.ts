// A build made of one mode of a GDTF fixture: colours by cell, one dimmer, and everything else parked at its default.

import { CodedError } from '../errors.ts'
import type { Channel } from '../rig/schema.ts'
import type { GdtfChannel, GdtfMode } from './modes.ts'

/** Attributes of DIN SPEC 15800 (annex A) that we play: additive colours, by cell. */
const colours: Readonly<Record<string, 'red' | 'green' | 'blue' | 'white'>> = {
  ColorAdd_R: 'red',
  ColorAdd_G: 'green',
  ColorAdd_B: 'blue',
  ColorAdd_W: 'white',
}

export interface GdtfBuild {
  readonly channels: readonly Channel[]
  readonly cells: number
  /** Attributes that stay parked, in the order of the wire, each once. */
  readonly parked: readonly string[]
}

/**
 * The channels of a mode as a build has them. Colours of one instance of a geometry are one cell; a first "Dimmer" is
 * the intensity of the whole fixture, further ones stay full open; slots that no channel has are sent as 0.
 * @throws CodedError `gdtf.breaks` for a mode with more than one start address, `gdtf.slots` for one that takes more
 *   than a universe or whose channels lie on one another, `gdtf.noLight` for one without dimmer or colours
 */
export function buildFromMode(mode: GdtfMode, where: string): GdtfBuild {
  if (mode.breaks.length > 1) {
    throw new CodedError(
      'gdtf.breaks',
      `mode "${mode.name}" has ${mode.breaks.length} start addresses`,
      where,
    )
  }
  if (mode.slots > 512) {
    throw new CodedError('gdtf.slots', `mode "${mode.name}" takes ${mode.slots} slots of 512`, where)
  }
  const cellOf = cellsOf(mode.channels)
  const at = slotsOf(mode, where)
  const dimmer = mode.channels.find(channel => channel.attribute === 'Dimmer')
  if (!dimmer && cellOf.size === 0) {
    throw new CodedError(
      'gdtf.noLight',
      `mode "${mode.name}" has no dimmer, red, green, blue or white`,
      where,
    )
  }
  const channels: Channel[] = []
  for (let slot = 1; slot <= mode.slots; slot++) {
    const found = at.get(slot)
    if (!found) {
      channels.push({ does: 'fixed', value: 0, bits: 8, label: 'Unused' })
      continue
    }
    const { channel, byte } = found
    const colour = colours[channel.attribute]
    const plays = colour !== undefined || channel === dimmer
    if (byte === 0 && plays) {
      // Coarse and fine next to each other are one channel; a fine byte elsewhere stays 0.
      const bits = channel.slots[1] === slot + 1 ? 16 : 8
      channels.push(
        colour === undefined
          ? { does: 'intensity', bits }
          : { does: colour, cell: cellOf.get(channel.geometry)!, bits },
      )
      if (bits === 16) slot++
      continue
    }
    const value = plays ? 0 : byteOf(channel, byte)
    const label = `${channel.attribute || 'Unnamed'}${byte > 0 ? ', fine' : ''}`.slice(0, 80)
    channels.push({ does: 'fixed', value, bits: 8, label })
  }
  const parked = mode.channels.map(c => c.attribute).filter(a => !colours[a] && a !== 'Dimmer')
  return { channels, cells: Math.max(1, cellOf.size), parked: [...new Set(parked)] }
}

/** What every slot of a mode belongs to: the channel, and which of its bytes. */
function slotsOf(mode: GdtfMode, where: string): Map<number, { channel: GdtfChannel; byte: number }> {
  const at = new Map<number, { channel: GdtfChannel; byte: number }>()
  for (const channel of mode.channels) {
    for (const [byte, slot] of channel.slots.entries()) {
      if (at.has(slot)) {
        throw new CodedError('gdtf.slots', `two channels of mode "${mode.name}" take slot ${slot}`, where)
      }
      at.set(slot, { channel, byte })
    }
  }
  return at
}

/** Cells by the instance of the geometry that has colours, in the order of their first slots. */
function cellsOf(channels: readonly GdtfChannel[]): Map<string, number> {
  const cells = new Map<string, number>()
  for (const { attribute, geometry } of channels) {
    if (colours[attribute] && !cells.has(geometry)) cells.set(geometry, cells.size)
  }
  return cells
}

/** One byte of a parked channel's default, as a share; a dimmer that is not played stands open. */
function byteOf({ attribute, slots, default: value }: GdtfChannel, byte: number): number {
  if (attribute === 'Dimmer') return 1
  const whole = Math.round(value * (256 ** slots.length - 1))
  return (Math.floor(whole / 256 ** (slots.length - 1 - byte)) % 256) / 255
}
