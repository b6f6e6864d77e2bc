// Ways out and receivers as the page draws them up: who is listed, what is said of silence, and how routes change.

import type { FoundNode } from '@glowchart/shared/messages.ts'
import type { Route } from '@glowchart/shared/show/output.ts'
import { heardText, receiversOf, silenceText } from '@glowchart/web/output/receivers.ts'
import { hostOf, numberText, placeKey, routeName, wayTo, withRoute } from '@glowchart/web/output/routes.ts'
import { describe, expect, test } from 'vitest'

const node: FoundNode = {
  address: '2.0.0.10',
  port: 6454,
  name: 'Box',
  longName: 'Box one',
  portAddresses: [1, 18],
  lastSeen: 10_000,
  silent: false,
  says: '',
}
const interfaces = [{ name: 'eth0', address: '2.0.0.1', netmask: '255.0.0.0' }]
const box = { protocol: 'artnet', host: '2.0.0.10', port: 6454 } as const
const route = (universe: number, number: number): Route => ({ universe, to: wayTo(box, number) })
const network = (nodes: FoundNode[]) => ({ interfaces, nodes, says: '' })

describe('the receivers', () => {
  test('are the nodes with their ports, what is sent to, what was typed, and multicast', () => {
    const far = hostOf('artnet', '10.0.0.7') as Exclude<ReturnType<typeof hostOf>, string>
    const listed = receiversOf(network([node]), [route(1, 40)], [far], [1, 2])
    expect(listed.map(({ name, numbers }) => [name, numbers])).toEqual([
      ['Box', [1, 18, 40]],
      ['10.0.0.7', [0, 1]],
      ['sACN multicast', [1, 2]],
    ])
    expect(listed[0]!.says).toBe('')
    expect(listed[1]!.says).toContain('different networks')
  })

  test('say when they were heard', () => {
    expect(heardText(node, 12_100)).toBe('seen 2 s ago')
    expect(heardText({ ...node, silent: true }, 15_000)).toBe('silent for 5 s')
    expect(heardText({ ...node, lastSeen: null, silent: true }, 0)).toBe('does not answer')
  })
})

test('silence is said only of a node that is sent to and left a poll unanswered', () => {
  const silent = network([{ ...node, silent: true }])
  expect(silenceText(network([node]), [route(1, 1)], 90_000)).toBeNull()
  expect(silenceText(silent, [route(1, 1)], 14_000)).toBe('Node silent 4 s, still sending')
  expect(silenceText(silent, [], 14_000)).toBeNull()
  expect(silenceText(network([{ ...node, lastSeen: null, silent: true }]), [route(1, 1)], 0)).toBe(
    'Node does not answer, still sending',
  )
})

describe('routes', () => {
  test('one takes the place of another, and what went to the same place gives way', () => {
    const routes = [route(1, 0), route(2, 1)]
    expect(withRoute(routes, routes[0]!, route(1, 5)).map(r => placeKey(r.to))).toEqual([
      'artnet 2.0.0.10:6454 5',
      'artnet 2.0.0.10:6454 1',
    ])
    expect(withRoute(routes, null, route(3, 1))).toEqual([route(1, 0), route(3, 1)])
    expect(withRoute(routes, routes[1]!, null)).toEqual([route(1, 0)])
  })

  test('keep their frames and priority when they go elsewhere under the same protocol', () => {
    const to = {
      ...wayTo({ protocol: 'sacn', host: 'multicast', port: 5568 }, 7),
      priority: 150,
    } as Route['to']
    expect(wayTo({ protocol: 'sacn', host: '10.0.0.7', port: 5568 }, 8, to)).toMatchObject({ priority: 150 })
    expect(wayTo(box, 8, to)).toMatchObject({ mode: 'every', portAddress: 8 })
  })

  test('are named with the Port-Address in three numbers and in one', () => {
    expect(numberText('artnet', 291)).toBe('port 1:2:3 (291)')
    expect(routeName(route(1, 0))).toBe('Universe 1 to Art-Net 2.0.0.10, port 0:0:0 (0)')
  })
})

test.each([
  ['2.0.0.10', { protocol: 'artnet', host: '2.0.0.10', port: 6454 }],
  ['2.0.0.10:7000', { protocol: 'artnet', host: '2.0.0.10', port: 7000 }],
  ['', 'Type the address of the node'],
  ['2.0.0.256', 'An address has four numbers, as in 10.0.0.20'],
  ['2.0.0', 'An address has four numbers, as in 10.0.0.20'],
  ['2.0.0.1:70000', 'A UDP port is from 1 to 65535'],
])('the typed address "%s" is read', (text, expected) => expect(hostOf('artnet', text)).toEqual(expected))
