// The ways out over the night: switched on and off, failing and working again, nodes silent and back.

import type { EngineStatus, FoundNode, Network } from '../messages.ts'
import { secondsText } from './evening.ts'
import type { NightEvent } from './event.ts'

type Said = Pick<NightEvent, 'kind' | 'says'> & { readonly fault?: boolean }

export interface Wires {
  /** Routes as text, to see that they have changed; null before the first status. */
  readonly routes: string | null
  /** By host: since when packets to it fail (ms since 1970), and when one last did; errors told by then. */
  readonly failing: Readonly<
    Record<string, { readonly since: number; readonly last: number; readonly from: number }>
  >
  readonly errors: Readonly<Record<string, number>>
  /** Nodes that are silent, by address and port, and since when. */
  readonly silent: Readonly<Record<string, number>>
}

export const freshWires: Wires = { routes: null, failing: {}, errors: {}, silent: {} }

/** Without an error for so long it works again, ms. */
const WELL_AFTER = 3000

export function wireEvents(
  wires: Wires,
  { outputs }: EngineStatus,
  now: number,
): { wires: Wires; said: Said[] } {
  const said: Said[] = []
  const routes = JSON.stringify(outputs.map(output => output.route))
  const isChanged = routes !== wires.routes
  if (isChanged && (wires.routes !== null || outputs.length > 0)) {
    const hosts = [...new Set(outputs.map(output => output.route.to.host))]
    said.push({
      kind: 'output',
      says: outputs.length === 0 ? 'The output is off.' : `The output is on: to ${hosts.join(', ')}.`,
    })
  }
  const errors: Record<string, number> = {}
  const words: Record<string, string> = {}
  for (const { route, errors: count, says } of outputs) {
    const { host } = route.to
    errors[host] = (errors[host] ?? 0) + count
    if (says !== '') words[host] = says
  }
  const failing = { ...(isChanged ? {} : wires.failing) }
  const before = isChanged ? {} : wires.errors
  for (const [host, count] of Object.entries(errors)) {
    // A new engine counts from the start.
    const had = Math.min(before[host] ?? 0, count)
    const known = failing[host]
    if (count > had) {
      if (!known) {
        said.push({ kind: 'sending', says: words[host] ?? `Packets to ${host} do not leave.`, fault: true })
      }
      failing[host] = { since: known?.since ?? now, last: now, from: known?.from ?? had }
    } else if (known && now - known.last >= WELL_AFTER && words[host] === undefined) {
      delete failing[host]
      const lost = Math.max(0, count - known.from)
      const lasted = secondsText(known.last - known.since)
      said.push({
        kind: 'sending',
        says: `Packets to ${host} leave again; for ${lasted} they did not (${lost} of them).`,
      })
    }
  }
  return { wires: { ...wires, routes, failing, errors }, said }
}

/** What a poll found about the nodes that light is sent to. */
export function nodeEvents(
  wires: Wires,
  network: Network,
  { outputs }: Pick<EngineStatus, 'outputs'>,
  now: number,
): { wires: Wires; said: Said[] } {
  const said: Said[] = []
  const silent = { ...wires.silent }
  const sentTo = new Set(outputs.map(({ route: { to } }) => `${to.host}:${to.port}`))
  for (const node of network.nodes) {
    const key = `${node.address}:${node.port}`
    const since = silent[key]
    if (node.silent && since === undefined && sentTo.has(key)) {
      silent[key] = now
      said.push({
        kind: 'node',
        says: `${nodeName(node)} is silent; light is still sent to it.`,
        fault: true,
      })
    } else if (!node.silent && since !== undefined && node.lastSeen !== null) {
      delete silent[key]
      said.push({ kind: 'node', says: `${nodeName(node)} answers again after ${secondsText(now - since)}.` })
    }
  }
  return { wires: { ...wires, silent }, said }
}

const nodeName = ({ name, address }: FoundNode): string =>
  name === '' || name === address ? `The node at ${address}` : `${name} (${address})`
