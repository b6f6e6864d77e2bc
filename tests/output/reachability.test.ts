// Whether a node can be reached, in words: IPv4 networks as RFC 950 masks and RFC 3927 self-assigned addresses have them.

import { NodeBook } from '@glowchart/server/output/node-book.ts'
import { directedBroadcasts, reachability } from '@glowchart/server/output/reachability.ts'
import { explainSendError } from '@glowchart/server/output/send-fault.ts'
import { describe, expect, test } from 'vitest'

const loopback = { name: 'lo', address: '127.0.0.1', netmask: '255.0.0.0' }
const wifi = { name: 'wlan0', address: '192.168.1.20', netmask: '255.255.255.0' }
const selfAssigned = { name: 'eth0', address: '169.254.7.9', netmask: '255.255.0.0' }
const primary = { name: 'eth1', address: '2.0.0.1', netmask: '255.0.0.0' }

describe('reachability', () => {
  test('has nothing to say when an interface is on the node’s network', () => {
    expect(reachability([loopback, primary], '2.200.3.4')).toBe('')
    expect(reachability([wifi], '192.168.1.254')).toBe('')
    expect(reachability([loopback], '127.0.0.9')).toBe('')
  })

  test('names both networks when they differ, and explains a self-assigned address', () => {
    expect(reachability([loopback, selfAssigned], '2.0.0.10')).toBe(
      "Different networks: this computer is on 169.254.x (169.254.x is what a computer gives itself when nothing on the cable gives it an address), the node is at 2.0.0.10. Give this computer an address on the node's network.",
    )
    expect(reachability([wifi, primary], '10.0.0.5')).toContain(
      'this computer is on 192.168.1.x and 2.x, the node is at 10.0.0.5',
    )
  })

  test('says so when this computer is on no network', () => {
    expect(reachability([loopback], '2.0.0.10')).toBe(
      'This computer is on no network: plug in the cable to reach 2.0.0.10.',
    )
  })

  test('takes the mask bit by bit: .127 and .128 part at 255.255.255.128', () => {
    const half = { name: 'eth0', address: '10.0.0.1', netmask: '255.255.255.128' }
    expect(reachability([half], '10.0.0.126')).toBe('')
    expect(reachability([half], '10.0.0.129')).not.toBe('')
  })
})

test('polls go to each network’s directed broadcast address once, never to loopback (RFC 919)', () => {
  const half = { name: 'eth2', address: '10.0.0.200', netmask: '255.255.255.128' }
  expect(directedBroadcasts([loopback, wifi, wifi, selfAssigned, primary, half])).toEqual([
    '192.168.1.255',
    '169.254.255.255',
    '2.255.255.255',
    '10.0.0.255',
  ])
})

describe('the list of nodes', () => {
  const reply = {
    address: '2.0.0.10',
    shortName: 'Box',
    longName: 'Box one',
    report: '',
    bindIndex: 1,
    outputs: [1, 2],
  }

  test('gathers the replies of one node and strikes it out 3 s after a poll that it did not answer (Art-Net 4)', () => {
    const book = new NodeBook()
    book.asked(0)
    book.answered('2.0.0.10', reply, 100)
    book.answered('2.0.0.10', { ...reply, bindIndex: 2, outputs: [9, 2] }, 110)
    expect(book.list([primary])).toEqual([
      {
        address: '2.0.0.10',
        name: 'Box',
        longName: 'Box one',
        portAddresses: [1, 2, 9],
        lastSeen: 110,
        says: '',
      },
    ])
    expect(book.strike(60_000)).toBe(false) // nobody asked since
    book.asked(60_000)
    book.asked(62_750)
    expect(book.strike(63_000)).toBe(false)
    expect(book.strike(63_001)).toBe(true)
    expect(book.list([primary])).toEqual([])
  })

  test('says what keeps a node from being of use', () => {
    const book = new NodeBook()
    book.answered('2.0.0.10', { ...reply, address: '2.0.0.99', outputs: [] }, 0)
    book.answered('2.0.0.11', { ...reply, address: '0.0.0.0', outputs: [0] }, 0)
    const says = book.list([wifi]).map(one => one.says)
    expect(says[0]).toMatch(
      /^Different networks: .* It says its address is 2\.0\.0\.99\. It puts out no universe\.$/,
    )
    expect(says[1]).toMatch(/Port-Address 0/)
  })

  test('cannot be flooded', () => {
    const book = new NodeBook()
    for (let i = 0; i < 5000; i++) book.answered(`10.0.${i >> 8}.${i & 255}`, reply, i)
    expect(book.list([])).toHaveLength(256)
  })
})

test.each([
  ['ENETUNREACH', /No way from 2\.0\.0\.1 to 2\.0\.0\.10: the cable/],
  ['EHOSTUNREACH', /2\.0\.0\.10 does not answer/],
  ['EADDRNOTAVAIL', /no network address 2\.0\.0\.1 now/],
  ['ENETDOWN', /adapter is down/],
  ['EACCES', /broadcast address/],
  ['EPERM', /firewall/],
  ['ENOBUFS', /cannot keep up/],
  ['ESOMETHING', /Sending to 2\.0\.0\.10 failed \(ESOMETHING\)\./],
])('a send that fails with %s is explained', (code, says) => {
  const to = { host: '2.0.0.10', port: 6454, via: '2.0.0.1', multicast: false }
  expect(explainSendError(Object.assign(new Error('x'), { code }), to)).toMatch(says)
})
