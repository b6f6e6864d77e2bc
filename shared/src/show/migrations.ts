// Migrations: each takes a document of one version to the next. They only go up, and a test loads a sample of each version.

import { CodedError } from '../errors.ts'
import { RIG_VERSION } from '../rig/schema.ts'
import { SHOW_VERSION } from './schema.ts'

export type DocumentKind = 'rig' | 'show'

/** Takes a document of version `from` to `from` + 1 without changing its argument; `version` is counted up for it. */
export interface Migration {
  readonly from: number
  up(document: Readonly<Record<string, unknown>>): Record<string, unknown>
}

/** The steps from version 1 to `current`, in order, none missing. */
export interface Ladder {
  readonly current: number
  readonly steps: readonly Migration[]
}

export const ladders: Readonly<Record<DocumentKind, Ladder>> = {
  rig: {
    current: RIG_VERSION,
    steps: [
      // 2: a build says where its amps come from, a cable which wire it is made of.
      {
        from: 1,
        up: rig => ({ ...rig, builds: all(rig.builds, withDraw), boxes: all(rig.boxes, withWires) }),
      },
    ],
  },
  show: {
    current: SHOW_VERSION,
    steps: [
      // 2: songs may hold a recording (`audio`) and sections a `score`; without them nothing is different.
      { from: 1, up: show => ({ ...show }) },
    ],
  },
}

/**
 * Brings a document up to the ladder's current version.
 * @throws CodedError `document.version` for a version that is not a whole number from 1, `document.newer` for one
 *   that is above the current.
 */
export function migrate(
  document: Readonly<Record<string, unknown>>,
  ladder: Ladder,
  where: string,
): Record<string, unknown> {
  const { version } = document
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    const found = version === undefined ? 'is missing' : `is ${JSON.stringify(version)}`
    throw new CodedError(
      'document.version',
      `version: ${found}; it must be a whole number from 1 upwards`,
      `${where}: version`,
    )
  }
  if (version > ladder.current) {
    const says = `version: the file has version ${version}, this Glowchart reads up to ${ladder.current}`
    throw new CodedError('document.newer', says, `${where}: version`)
  }
  let out: Record<string, unknown> = { ...document }
  for (const step of ladder.steps) {
    if (step.from >= version) out = { ...step.up(out), version: step.from + 1 }
  }
  return out
}

type Fields = Readonly<Record<string, unknown>>

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** Every item of a record changed; what is no record is left for the schema to refuse. */
const all = (items: unknown, change: (item: Fields) => Fields): unknown =>
  isFields(items)
    ? Object.fromEntries(
        Object.entries(items).map(([id, item]) => [id, isFields(item) ? change(item) : item]),
      )
    : items

function withDraw({ amps, ...build }: Fields): Fields {
  return amps === undefined ? build : { ...build, draw: { from: 'measured', amps } }
}

function withWires(box: Fields): Fields {
  if (!Array.isArray(box.sockets)) return box
  return { ...box, sockets: box.sockets.map(socket => (isFields(socket) ? withWire(socket) : socket)) }
}

/** 1.31 mm² was how 16 AWG was written. */
function withWire(socket: Fields): Fields {
  if (!isFields(socket.cable)) return socket
  const { area, ...cable } = socket.cable
  return { ...socket, cable: { ...cable, wire: area === 1.31 ? { awg: 16, solid: false } : { mm2: area } } }
}
