// The checks of the way out: every universe has a route, nodes answer, packets leave.

import { counted, listText } from '../advice/words.ts'
import type { EngineStatus, FoundNode } from '../messages.ts'
import { reach } from '../network/reach.ts'
import { patch } from '../rig/patch.ts'
import { housePlace, SHARES_REMEDY, sharesUniverse } from '../show/house-input.ts'
import type { Route } from '../show/output.ts'
import type { Facts } from './facts.ts'
import type { Row } from './row.ts'
import { kitOf } from './stage.ts'

const NO_ENGINE = 'The light engine does not answer.'
const OUTPUTS = { do: 'go', place: 'outputs' } as const

const routesOf = (status: EngineStatus): Route[] => status.outputs.map(output => output.route)

export function universesRow(facts: Facts): Row {
  const row = { id: 'universes', checked: 'Every universe has a way out' } as const
  const { status, rig, draft } = facts
  if (!status) return { ...row, result: 'unknown', says: NO_ENGINE }
  const used = [...new Set(patch(rig, kitOf(facts)).entries.map(entry => entry.universe))]
  const sent = new Set(routesOf(status).map(route => route.universe))
  const without = used.filter(universe => !sent.has(universe)).sort((a, b) => a - b)
  if (without.length === 0) {
    return { ...row, result: 'good', says: `${counted(used.length, 'universe')}, each sent somewhere.` }
  }
  const kept = new Set(draft.show.output.routes.map(route => route.universe))
  const canSend = sent.size === 0 && without.every(universe => kept.has(universe))
  return {
    ...row,
    result: 'stop',
    says:
      sent.size === 0
        ? 'The output is off: nothing is sent anywhere.'
        : `No route for universe ${listText(without.map(String))}: its lights stay dark.`,
    remedy: canSend ? 'Send where the show was sent last time, or choose a node.' : 'Choose a node for it.',
    mend: canSend ? { do: 'send' } : OUTPUTS,
  }
}

/** Art-Net nodes answer polls; sACN has no such answer, so nothing is claimed of it. */
export function nodesRow({ status, network, engineNow }: Facts): Row {
  const row = { id: 'nodes', checked: 'Nodes answer' } as const
  if (!status) return { ...row, result: 'unknown', says: NO_ENGINE }
  const routes = routesOf(status)
  if (routes.length === 0) {
    return { ...row, result: 'unknown', says: 'The output is off: no node is asked.', mend: OUTPUTS }
  }
  const hosts = hostsOf(routes)
  const asked = hosts.filter(host => host.protocol === 'artnet')
  const away = network
    ? hosts.flatMap(({ host, via }) => {
        const { says, state } =
          host === 'multicast' ? { says: '', state: 'near' } : reach(network.interfaces, host, via)
        return state === 'apart' ? [says] : []
      })
    : []
  if (away.length > 0) {
    return {
      ...row,
      result: 'stop',
      says: away[0]!,
      more: away.slice(1),
      remedy: 'Put laptop and node on one network.',
      mend: OUTPUTS,
    }
  }
  if (asked.length === 0) {
    return { ...row, result: 'unknown', says: 'sACN receivers do not answer: look at the lights.' }
  }
  const known = asked.map(({ host, port }) => ({
    host,
    node: network?.nodes.find(node => node.address === host && node.port === port) ?? null,
  }))
  const silent = known.filter(({ node }) => node?.silent)
  if (silent.length > 0) {
    return {
      ...row,
      result: 'stop',
      says: silent.map(({ host, node }) => silenceOf(host, node!, engineNow)).join(' '),
      remedy: 'Check its mains, its cable and its address. Light is sent to it all the same.',
      mend: { do: 'ask' },
    }
  }
  const waiting = known.filter(({ node }) => !node || node.lastSeen === null)
  if (waiting.length > 0) {
    return {
      ...row,
      result: 'unknown',
      says: `${listText(waiting.map(({ host }) => host))}: asked, no answer yet.`,
      mend: { do: 'ask' },
    }
  }
  const odd = known.filter(({ node }) => node!.says !== '')
  if (odd.length > 0) {
    return {
      ...row,
      result: 'heed',
      says: odd.map(({ node }) => `${node!.name}: ${node!.says}`).join(' '),
      remedy: 'Look at the node’s own settings.',
      mend: OUTPUTS,
    }
  }
  const others = hosts.length > asked.length ? ' Receivers of sACN do not answer: look at the lights.' : ''
  return {
    ...row,
    result: 'good',
    says: `${listText(known.map(({ node }) => node!.name))}: answered.${others}`,
  }
}

function silenceOf(host: string, { name, lastSeen }: FoundNode, now: number): string {
  const who = name === host || name === '' ? host : `${name} (${host})`
  if (lastSeen === null) return `${who} does not answer.`
  return `${who} has been silent for ${Math.max(0, Math.round((now - lastSeen) / 1000))} s.`
}

function hostsOf(routes: readonly Route[]) {
  const hosts = new Map(
    routes.map(({ to, via }) => [
      `${to.protocol} ${to.host}:${to.port} ${via ?? ''}`,
      { protocol: to.protocol, host: to.host, port: to.port, via },
    ]),
  )
  return [...hosts.values()]
}

export function sendingRow({ status }: Facts): Row {
  const row = { id: 'sending', checked: 'Packets leave' } as const
  if (!status) return { ...row, result: 'unknown', says: NO_ENGINE }
  if (status.outputs.length === 0)
    return { ...row, result: 'unknown', says: 'The output is off.', mend: OUTPUTS }
  const failing = status.outputs.filter(output => output.says !== '')
  if (failing.length > 0) {
    const says = [...new Set(failing.map(output => output.says))]
    return {
      ...row,
      result: 'stop',
      says: says[0]!,
      more: says.slice(1),
      remedy: 'Mend what it names; sending goes on by itself.',
      mend: OUTPUTS,
    }
  }
  const errors = status.outputs.reduce((sum, output) => sum + output.errors, 0)
  const packets = status.outputs.reduce((sum, output) => sum + output.packets, 0)
  if (errors > 0) {
    return {
      ...row,
      result: 'heed',
      says: `${counted(errors, 'packet')} could not leave earlier; sending works now.`,
      remedy: 'Look at cables and adapter if the number grows.',
      mend: OUTPUTS,
    }
  }
  if (packets === 0) return { ...row, result: 'unknown', says: 'Nothing has been sent yet.' }
  return {
    ...row,
    result: 'good',
    says: `${status.frames.rate} frames a second to ${counted(status.outputs.length, 'route')}, no errors.`,
  }
}

/** What the venue's own desk may hold over the show. */
export function houseRow(facts: Facts): Row {
  const row = { id: 'house', checked: 'The desk of the house' } as const
  const { status, draft } = facts
  if (!status) return { ...row, result: 'unknown', says: NO_ENGINE }
  const { state, source, says, blackout, grand } = status.house
  const mend = { do: 'go', place: 'setlist' } as const
  const input = kitOf(facts).venue?.house
  // What is not sent yet will be: where it went last time.
  const routes = status.outputs.length > 0 ? routesOf(status) : draft.show.output.routes
  if (input && sharesUniverse(input, routes)) {
    return {
      ...row,
      result: 'stop',
      says: `It is listened to on ${housePlace(input)}, and the show’s own light is sent there too: light could be taken for its blackout, and nodes get both.`,
      remedy: SHARES_REMEDY,
      mend,
    }
  }
  if (state === 'off') return { ...row, result: 'good', says: 'It is not listened to.' }
  if (state === 'waiting') {
    return {
      ...row,
      result: 'heed',
      says: `It is listened to, and has not been heard yet. ${says}`.trim(),
      remedy: 'Ask the house to send once, or do not listen to it.',
      mend,
    }
  }
  if (state === 'lost') {
    return {
      ...row,
      result: 'stop',
      says: `It was heard and is gone; what it held stays. ${says}`.trim(),
      remedy: 'Ask the house, or let go of what it held.',
      mend: { do: 'go', place: 'run' },
    }
  }
  if (blackout || grand < 1) {
    const holds = blackout ? 'a blackout' : `the light at ${Math.round(grand * 100)} %`
    return {
      ...row,
      result: 'heed',
      says: `${source} is heard, and holds ${holds}.`,
      remedy: 'Ask the house to let it up.',
    }
  }
  return { ...row, result: 'good', says: `${source} is heard, and holds nothing.` }
}
