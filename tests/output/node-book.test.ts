// The list of nodes: who answered which poll, who is silent, and what keeps one from being of use (Art-Net 4).

import { NodeBook } from '@glowchart/server/output/node-book.ts'
import { describe, expect, test } from 'vitest'

const reply = {
  address: '2.0.0.10',
  shortName: 'Box',
  longName: 'Box one',
  report: '',
  bindIndex: 1,
  outputs: [1, 2],
}
const host = { address: '2.0.0.10', port: 6454 }

describe('the list of nodes', () => {
  test('gathers the replies of one node; it is silent 3 s after a poll that it did not answer', () => {
    const book = new NodeBook()
    book.asked(0, true, [])
    book.answered('2.0.0.10', reply, 100)
    book.answered('2.0.0.10', { ...reply, bindIndex: 2, outputs: [9, 2] }, 110)
    const heard = {
      address: '2.0.0.10',
      port: 6454,
      name: 'Box',
      longName: 'Box one',
      portAddresses: [1, 2, 9],
      lastSeen: 110,
      silent: false,
      says: '',
    }
    expect(book.list()).toEqual([heard])
    expect(book.strike(50_000)).toBe(false) // nobody asked since
    book.asked(50_000, true, [])
    book.asked(52_750, true, [])
    expect(book.strike(53_000)).toBe(false)
    expect(book.strike(53_001)).toBe(true)
    expect(book.list()).toEqual([{ ...heard, silent: true }])
    book.answered('2.0.0.10', reply, 53_100)
    expect(book.list()).toEqual([{ ...heard, lastSeen: 53_100 }])
  })

  test('forgets a silent node after a minute, but not one that is still asked for', () => {
    const book = new NodeBook()
    book.answered('2.0.0.10', reply, 0)
    book.answered('2.0.0.11', reply, 0)
    book.asked(1000, true, [])
    expect(book.strike(4001)).toBe(true)
    book.asked(59_000, false, [host])
    expect(book.strike(60_001)).toBe(true)
    expect(book.list().map(node => node.address)).toEqual(['2.0.0.10'])
  })

  test('lists an address that was asked for and never answered', () => {
    const book = new NodeBook()
    book.asked(0, false, [host])
    expect(book.list()).toMatchObject([{ name: '2.0.0.10', lastSeen: null, silent: false, says: '' }])
    book.strike(3001)
    expect(book.list()).toMatchObject([{ lastSeen: null, silent: true }])
  })

  test('does not take a node for silent that was not asked', () => {
    const book = new NodeBook()
    book.answered('2.0.0.11', reply, 0)
    book.asked(0, false, [host])
    book.strike(3001)
    expect(book.list().map(({ address, silent }) => [address, silent])).toEqual([
      ['2.0.0.11', false],
      ['2.0.0.10', true],
    ])
  })

  test('says what keeps a node from being of use', () => {
    const book = new NodeBook()
    book.answered('2.0.0.10', { ...reply, address: '2.0.0.99', outputs: [] }, 0)
    book.answered('2.0.0.11', { ...reply, address: '0.0.0.0', outputs: [0] }, 0)
    const says = book.list().map(one => one.says)
    expect(says[0]).toBe('It says its address is 2.0.0.99. It puts out no universe.')
    expect(says[1]).toMatch(/Port-Address 0/)
  })

  test('cannot be flooded', () => {
    const book = new NodeBook()
    for (let i = 0; i < 5000; i++) book.answered(`10.0.${i >> 8}.${i & 255}`, reply, i)
    expect(book.list()).toHaveLength(256)
  })
})
