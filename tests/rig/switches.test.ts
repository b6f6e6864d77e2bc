// Start addresses on switches and dials.

import { addressOf, dialsOf, switchesOf } from '@glowchart/shared/rig/switches.ts'
import { expect, it } from 'vitest'

const text = (on: boolean[] | null) => on?.map(Number).join('') ?? null

it('25 is 1 + 8 + 16; on a decoder that counts from all off as 1 it is 8 + 16', () => {
  expect(text(switchesOf(25, 'sum'))).toBe('100110000')
  expect(text(switchesOf(25, 'sumAndOne'))).toBe('000110000')
})

it('every address is read back as it was set; 512 needs the kind that adds one', () => {
  for (let address = 1; address <= 512; address++) {
    const plain = switchesOf(address, 'sum')
    if (address < 512) expect(addressOf(plain!, 'sum')).toBe(address)
    else expect(plain).toBeNull()
    expect(addressOf(switchesOf(address, 'sumAndOne')!, 'sumAndOne')).toBe(address)
  }
})

it('dials read hundreds, tens, ones', () => {
  expect(dialsOf(407)).toEqual([4, 0, 7])
  expect(dialsOf(9)).toEqual([0, 0, 9])
})
