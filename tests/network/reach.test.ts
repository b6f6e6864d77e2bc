// Whether a node can be reached, in words: masks as in RFC 950, self-assigned addresses as in RFC 3927. Addresses invented.

import { directedBroadcasts, linkOf } from '@glowchart/shared/network/ipv4.ts'
import { laptopSays, reach } from '@glowchart/shared/network/reach.ts'
import { describe, expect, test } from 'vitest'

const loopback = { name: 'lo', address: '127.0.0.1', netmask: '255.0.0.0' }
const wifi = { name: 'wlan0', address: '192.168.1.20', netmask: '255.255.255.0' }
const cable = { name: 'enp3s0', address: '192.168.1.21', netmask: '255.255.255.0' }
const selfAssigned = { name: 'en0', address: '169.254.12.3', netmask: '255.255.0.0' }
const primary = { name: 'eth1', address: '2.0.0.1', netmask: '255.0.0.0' }
const half = { name: 'eth2', address: '10.0.0.200', netmask: '255.255.255.128' }

describe('whether a node can be reached', () => {
  test('nothing is said when an interface is on the node’s network', () => {
    for (const [interfaces, node] of [
      [[loopback, primary], '2.200.3.4'],
      [[wifi], '192.168.1.254'],
      [[loopback], '127.0.0.9'],
    ] as const) {
      expect(reach(interfaces, node)).toEqual({ state: 'near', says: '' })
    }
  })

  test('both addresses are named when the networks differ, and what to set', () => {
    expect(reach([loopback, selfAssigned], '2.0.0.10')).toEqual({
      state: 'apart',
      says: 'This laptop is 169.254.12.3 on en0, where no router gave it an address; the node is 2.0.0.10: different networks. Give the laptop an address that begins with 2., mask 255.0.0.0, or set the node to one that begins with 169.254.',
    })
    const { says } = reach([selfAssigned, wifi, primary], '10.0.0.5')
    expect(says).toContain('192.168.1.20 on wlan0 (Wi-Fi) and 2.0.0.1 on eth1 (cable); the node is 10.0.0.5')
    expect(says).toContain(
      'begins with 10., mask 255.0.0.0, or set the node to one that begins with 192.168.1.',
    )
  })

  test('a node that gave itself an address wants a laptop that does the same', () => {
    expect(reach([primary], '169.254.3.3').says).toContain('Let the laptop take its address by itself')
    expect(reach([selfAssigned], '169.254.3.3').state).toBe('near')
  })

  test('a laptop on no network is told to plug in', () => {
    expect(reach([loopback], '2.0.0.10').says).toBe(
      'This laptop is on no network: plug in the cable, or join the Wi-Fi, to reach 2.0.0.10.',
    )
  })

  test('the mask counts bit by bit: .129 and .127 part at 255.255.255.128', () => {
    expect(reach([half], '10.0.0.129').state).toBe('near')
    expect(reach([half], '10.0.0.127').state).toBe('apart')
  })

  test('the same address twice is found', () => {
    expect(reach([primary], '2.0.0.1').says).toContain('2.0.0.1 is this laptop’s own address')
  })

  test('the address of everybody is no node’s', () => {
    expect(reach([wifi], '192.168.1.255')).toMatchObject({ state: 'apart' })
    expect(reach([primary], '2.255.255.255').says).toContain('everybody on eth1 (cable)')
  })

  test('two ways to one network are a choice, and the cable is advised', () => {
    expect(reach([wifi, cable], '192.168.1.9')).toEqual({
      state: 'choice',
      says: 'This laptop is twice on the node’s network: 192.168.1.20 on wlan0 (Wi-Fi) and 192.168.1.21 on enp3s0 (cable). Choose 192.168.1.21: the cable is surer.',
    })
    expect(reach([wifi, cable], '192.168.1.9', '192.168.1.21').state).toBe('near')
  })

  test('the adapter that was chosen is the one that counts', () => {
    expect(reach([wifi, primary], '192.168.1.9', '2.0.0.1').state).toBe('apart')
    expect(reach([wifi], '192.168.1.9', '2.0.0.1').says).toBe(
      'This laptop does not have the address 2.0.0.1 now: plug that adapter in, or choose another.',
    )
  })
})

test('the laptop’s networks are said without loopback', () => {
  expect(laptopSays([loopback])).toBe('This laptop is on no network: no cable is in, and no Wi-Fi is joined.')
  expect(laptopSays([loopback, primary, wifi])).toBe(
    'This laptop is 2.0.0.1 on eth1 (cable) and 192.168.1.20 on wlan0 (Wi-Fi).',
  )
  expect(laptopSays([{ ...wifi, name: 'Wi-Fi' }])).toBe('This laptop is 192.168.1.20 on Wi-Fi.')
})

test.each([
  ['eth0', 'cable'],
  ['enp0s31f6', 'cable'],
  ['Ethernet 2', 'cable'],
  ['wlp2s0', 'Wi-Fi'],
  ['WLAN', 'Wi-Fi'],
  ['Wi-Fi', 'Wi-Fi'],
  ['en0', null],
])('the name %s tells %s', (name, link) => expect(linkOf(name)).toBe(link))

test('polls go to each network’s directed broadcast address once, never to loopback (RFC 919)', () => {
  expect(directedBroadcasts([loopback, wifi, cable, selfAssigned, primary, half])).toEqual([
    '192.168.1.255',
    '169.254.255.255',
    '2.255.255.255',
    '10.0.0.255',
  ])
})
