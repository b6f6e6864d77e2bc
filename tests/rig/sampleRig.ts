// A small invented rig and kit for the tests of patch and advice: boxes of RGB sockets, all filled.

import { channelsOf } from '@glowchart/shared/rig/channels.ts'
import { RIG_FORMAT, RIG_VERSION, type Rig, rigSchema } from '@glowchart/shared/rig/schema.ts'
import { type Kit, kitSchema } from '@glowchart/shared/show/schema.ts'

export interface BoxPlan {
  readonly outputs: number
  readonly universe: number
  readonly address: number
  readonly bits?: 8 | 16
  /** Decoder outputs of each socket. */
  readonly sockets: readonly number[]
  /** How many sockets hold a tube; all of them when left out. */
  readonly filled?: number
}
export interface GuestPlan {
  readonly universe: number
  readonly address: number
  readonly cells: number
  readonly bits?: 8 | 16
}

const place = { x: 0, y: 0, z: 1 }
const size = { long: 1.2, across: 0.04 }

/** Boxes b0, b1 …; their tubes t0, t1 … in order; guests g0, g1 …. */
export function sampleRig(
  boxes: readonly BoxPlan[],
  guests: readonly GuestPlan[] = [],
): { rig: Rig; kit: Kit } {
  const fixtures: Record<string, unknown> = {}
  const owned: Record<string, unknown> = {}
  const out: Record<string, unknown> = {}
  boxes.forEach((plan, b) => {
    const stands: Record<string, unknown> = {}
    const sockets = plan.sockets.map((channels, s) => ({ id: `s${s + 1}`, label: `${s + 1}`, channels }))
    for (const socket of sockets.slice(0, plan.filled ?? sockets.length)) {
      const id = `t${Object.keys(fixtures).length}`
      fixtures[id] = { name: `Tube ${Object.keys(fixtures).length + 1}`, build: 'tube', serial: `T-${id}` }
      stands[socket.id] = { fixture: id, place }
    }
    owned[`b${b}`] = {
      name: `Box ${b + 1}`,
      decoder: { channels: plan.outputs, bits: plan.bits ?? 8 },
      universe: plan.universe,
      address: plan.address,
      sockets,
    }
    out[`b${b}`] = { place, sockets: stands }
  })
  const builds: Record<string, unknown> = {
    tube: { name: 'Tube', shape: 'tube', size, cells: 1, channels: channelsOf('rgb', 1) },
  }
  const rented: Record<string, unknown> = {}
  guests.forEach(({ cells, bits = 8, universe, address }, g) => {
    builds[`bar${g}`] = { name: 'Bar', shape: 'bar', size, cells, channels: channelsOf('rgb', cells, bits) }
    rented[`g${g}`] = { name: `Guest ${g + 1}`, build: `bar${g}`, universe, address, place }
  })
  const rig = {
    format: RIG_FORMAT,
    version: RIG_VERSION,
    id: 'rig',
    name: 'Shed',
    builds,
    boxes: owned,
    fixtures,
  }
  const kit = {
    name: 'Tonight',
    stage: { width: 8, depth: 5, height: 3 },
    boxes: out,
    guests: rented,
    parts: {},
  }
  return { rig: rigSchema.parse(rig), kit: kitSchema.parse(kit) }
}
