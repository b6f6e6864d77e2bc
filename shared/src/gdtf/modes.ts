// The modes of a GDTF fixture: every DMX channel, with the geometries that are repeated written out.

import { CodedError } from '../errors.ts'
import { childOf, childrenOf, type Element } from './archive.ts'

export interface GdtfChannel {
  /** Offsets in the fixture's own slots, 1-based, coarse byte first. */
  readonly slots: readonly number[]
  /** The attribute of its first logical channel, such as "Dimmer" or "ColorAdd_R". */
  readonly attribute: string
  /** 0…1 of its range: where it stands when nobody asks for anything. */
  readonly default: number
  /** Which instance of its geometry it belongs to: the path of geometry names and references. */
  readonly geometry: string
}

export interface GdtfMode {
  readonly name: string
  /** In order of their first slot. Virtual channels, which have no slot, are left out. */
  readonly channels: readonly GdtfChannel[]
  /** How many slots it takes. */
  readonly slots: number
  /** DMX breaks it uses: a fixture with more than one has several start addresses. */
  readonly breaks: readonly number[]
}

export interface GdtfFixture {
  readonly name: string
  readonly maker: string
  readonly modes: readonly GdtfMode[]
}

const MOST_CHANNELS = 4096
const MOST_DEPTH = 32

/**
 * Reads the fixture type of a description (see `openGdtf`).
 * @throws CodedError `gdtf.damaged`, `gdtf.noModes`, `gdtf.tooMany`
 */
export function readFixture(root: Element, where: string): GdtfFixture {
  const type = childOf(root, 'FixtureType')
  if (!type) throw new CodedError('gdtf.damaged', 'there is no element "FixtureType"', where)
  const geometries = new Map(
    (childOf(type, 'Geometries')?.children ?? []).map(geometry => [geometry.attributes.Name ?? '', geometry]),
  )
  const modes = childrenOf(childOf(type, 'DMXModes'), 'DMXMode').map(mode =>
    readMode(mode, geometries, where),
  )
  if (modes.length === 0) throw new CodedError('gdtf.noModes', 'the fixture has no DMX mode', where)
  const { Name = '', LongName = '', Manufacturer = '' } = type.attributes
  return { name: LongName || Name, maker: Manufacturer, modes }
}

/** Where a geometry stands: the path to it, and what its references add to the offsets of each DMX break. */
interface Place {
  readonly path: string
  readonly offsets: ReadonlyMap<number, number>
  /** The break that a channel marked "Overwrite" takes. */
  readonly overwrite: number
}

function readMode(mode: Element, geometries: ReadonlyMap<string, Element>, where: string): GdtfMode {
  const name = mode.attributes.Name ?? ''
  const at = `${where}: mode "${name}"`
  const places = placesOf(geometries, mode.attributes.Geometry ?? '', at)
  const channels: (GdtfChannel & { break: number })[] = []
  for (const element of childrenOf(childOf(mode, 'DMXChannels'), 'DMXChannel')) {
    const offsets = offsetsOf(element, at)
    if (offsets === null) continue
    const geometry = element.attributes.Geometry ?? ''
    const found = places.get(geometry)
    if (!found) {
      throw new CodedError(
        'gdtf.damaged',
        `a channel belongs to the geometry "${geometry}", which is not there`,
        at,
      )
    }
    for (const place of found) {
      const dmxBreak =
        element.attributes.DMXBreak === 'Overwrite'
          ? place.overwrite
          : whole(element.attributes.DMXBreak ?? '1', at)
      const shift = place.offsets.get(dmxBreak) ?? 0
      const attribute = childOf(element, 'LogicalChannel')?.attributes.Attribute ?? ''
      const slots = offsets.map(offset => offset + shift)
      channels.push({
        slots,
        attribute,
        default: defaultOf(element),
        geometry: place.path,
        break: dmxBreak,
      })
      if (channels.length > MOST_CHANNELS) {
        throw new CodedError('gdtf.tooMany', `the mode has more than ${MOST_CHANNELS} channels`, at)
      }
    }
  }
  channels.sort((a, b) => a.break - b.break || a.slots[0]! - b.slots[0]!)
  return {
    name,
    channels: channels.map(({ break: _, ...channel }) => channel),
    slots: channels.reduce((most, channel) => Math.max(most, ...channel.slots), 0),
    breaks: [...new Set(channels.map(channel => channel.break))].sort((a, b) => a - b),
  }
}

/** "1" or "1,2": relative addresses, the most significant first; null for a virtual channel ("None" or empty). */
function offsetsOf(channel: Element, where: string): number[] | null {
  const text = (channel.attributes.Offset ?? '').trim()
  if (text === '' || text === 'None') return null
  const offsets = text.split(',').map(Number)
  if (
    offsets.length <= 4 &&
    offsets.every(offset => Number.isInteger(offset) && offset >= 1 && offset <= 512)
  ) {
    return offsets
  }
  throw new CodedError('gdtf.damaged', `"${text}" is no list of DMX offsets`, where)
}

/** All places of every geometry that a mode's root contains, references followed. */
function placesOf(
  geometries: ReadonlyMap<string, Element>,
  root: string,
  where: string,
): Map<string, Place[]> {
  const places = new Map<string, Place[]>()
  const visit = (geometry: Element, place: Place, depth: number): void => {
    if (depth > MOST_DEPTH) {
      throw new CodedError('gdtf.damaged', 'its geometries refer to one another in a circle', where)
    }
    const name = geometry.attributes.Name ?? ''
    places.set(name, [...(places.get(name) ?? []), place])
    for (const child of geometry.children) {
      const path = `${place.path}/${child.attributes.Name ?? ''}`
      if (child.name !== 'GeometryReference') {
        if (child.attributes.Name !== undefined) visit(child, { ...place, path }, depth + 1)
        continue
      }
      const target = geometries.get(child.attributes.Geometry ?? '')
      if (!target) continue
      const breaks = childrenOf(child, 'Break')
      const offsets = new Map(place.offsets)
      for (const element of breaks) {
        const { DMXBreak = '1', DMXOffset = '1' } = element.attributes
        const dmxBreak = whole(DMXBreak, where)
        offsets.set(dmxBreak, (place.offsets.get(dmxBreak) ?? 0) + slotOf(DMXOffset, where) - 1)
      }
      const last = breaks.at(-1)
      const overwrite = last ? whole(last.attributes.DMXBreak ?? '1', where) : place.overwrite
      visit(target, { path, offsets, overwrite }, depth + 1)
    }
  }
  const start = geometries.get(root)
  if (!start) throw new CodedError('gdtf.damaged', `the geometry "${root}" is not there`, where)
  visit(start, { path: root, offsets: new Map(), overwrite: 1 }, 0)
  return places
}

/** A DMX address: absolute, or "universe.address" with the universe counted from 1. */
function slotOf(text: string, where: string): number {
  const [first, second] = text.split('.').map(part => whole(part, where))
  return second === undefined ? first! : (first! - 1) * 512 + second
}

/** A whole number from 1. */
function whole(text: string, where: string): number {
  const value = Number(text)
  if (Number.isInteger(value) && value >= 1 && value <= 65535) return value
  throw new CodedError('gdtf.damaged', `"${text}" is no whole number from 1`, where)
}

/**
 * The default of the channel function that its `InitialFunction` names, else of the first; files older than GDTF 1.1
 * have it on the channel.
 */
function defaultOf(channel: Element): number {
  const functions = childrenOf(channel, 'LogicalChannel').flatMap(logical =>
    childrenOf(logical, 'ChannelFunction').map(element => ({ logical, element })),
  )
  const wanted = channel.attributes.InitialFunction
  const initial = functions.find(({ logical, element }) =>
    wanted?.endsWith(`.${logical.attributes.Attribute}.${element.attributes.Name}`),
  )
  const text = (initial ?? functions[0])?.element.attributes.Default ?? channel.attributes.Default
  return text === undefined ? 0 : dmxShare(text)
}

/** A DMX value "value/bytes" as a share 0…1 of its range; an "s" after it only says how it is widened. */
export function dmxShare(text: string): number {
  const [, value, bytes] = /^(\d+)\/([1-4])s?$/.exec(text.trim()) ?? []
  if (value === undefined || bytes === undefined) return 0
  return Math.min(1, Number(value) / (256 ** Number(bytes) - 1))
}
