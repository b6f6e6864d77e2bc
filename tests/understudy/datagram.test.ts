// The datagrams of a pair: what the partner wrote is read, once; what anybody else wrote, or wrote again, is not.

import { randomBytes } from 'node:crypto'
import { openDatagram, replayGuard, sealDatagram } from '@glowchart/server/understudy/datagram.ts'
import { expect, it } from 'vitest'

const key = randomBytes(32)
const envelope = { stream: randomBytes(8), counter: 7n, nonce: randomBytes(8), challenge: randomBytes(8) }
const value = { kind: 'hello', list: [1, 2, 3] }
const sealed = sealDatagram(key, envelope, value)

it('comes out as it went in', () => {
  expect(openDatagram(key, sealed)).toEqual({ ...envelope, value })
})

it('is not read with any one octet changed, cut, or with another key', () => {
  for (let i = 0; i < sealed.length; i++) {
    const bent = Buffer.from(sealed)
    bent[i]! ^= 0x10
    expect(openDatagram(key, bent)).toBeNull()
  }
  for (let n = 0; n < sealed.length; n++) expect(openDatagram(key, sealed.subarray(0, n))).toBeNull()
  expect(openDatagram(randomBytes(32), sealed)).toBeNull()
})

it('does not unpack into more than a megabyte', () => {
  expect(openDatagram(key, sealDatagram(key, envelope, 'a'.repeat(2 << 20)))).toBeNull()
})

it('is taken once, and never after a later one of its stream', () => {
  const takes = replayGuard()
  const other = randomBytes(8)
  const got = [5n, 5n, 4n, 6n].map(counter => takes({ stream: envelope.stream, counter }))
  expect(got).toEqual([true, false, false, true])
  expect(takes({ stream: other, counter: 1n })).toBe(true)
})
