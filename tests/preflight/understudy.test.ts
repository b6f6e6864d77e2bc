// The preflight's row of the second laptop: what it claims in each state of the pair, and what it tells to do.

import type { Facts } from '@glowchart/shared/preflight/facts.ts'
import { understudyRow } from '@glowchart/shared/preflight/laptop.ts'
import { noUnderstudy, type UnderstudyStatus } from '@glowchart/shared/understudy/status.ts'
import { expect, it } from 'vitest'
import { quiet } from '../night/status.ts'

const partner = { name: 'Attic laptop', address: '10.0.0.8', heard: 40, ready: true }
const row = (change: Partial<UnderstudyStatus>) =>
  understudyRow({ status: { ...quiet, understudy: { ...noUnderstudy, ...change } } } as Facts)

it.each<[string, Partial<UnderstudyStatus>, string, RegExp]>([
  ['there is none', {}, 'unknown', /No second laptop stands by/],
  ['the port is open and nobody came', { state: 'open' }, 'heed', /none does/],
  ['in step', { state: 'leads', partner, says: 'Attic laptop follows, in step' }, 'good', /in step\./],
  [
    'another version',
    { state: 'leads', partner, well: 'stop', says: 'Attic laptop follows, but differs: universe 2' },
    'stop',
    /differs/,
  ],
  [
    'gone',
    { state: 'follows', partner, well: 'stop', says: 'Attic laptop is not heard' },
    'stop',
    /not heard/,
  ],
])('%s', (_, change, result, says) => {
  const found = row(change)
  expect(found).toMatchObject({ result, says: expect.stringMatching(says) })
  if (result === 'heed' || result === 'stop')
    expect(found).toMatchObject({ remedy: expect.stringMatching(/laptop/), mend: { place: 'outputs' } })
})
