// The faulty sample: a file that reads well, and gives every kind of advice there is.

import { readFileSync } from 'node:fs'
import { adviceKinds } from '@glowchart/shared/advice/advice.ts'
import { adviseShow } from '@glowchart/shared/advice/advise.ts'
import { bundleText, parseBundle } from '@glowchart/shared/show/bundle.ts'
import { expect, it } from 'vitest'
import { faultyBundle, faultyFile } from '../support/faulty.ts'

const text = readFileSync(faultyFile, 'utf8')
const { rig, show } = parseBundle(text, 'faulty.json')
const advice = adviseShow(rig, show, show.tonight)

it('is the file that tests/support/faulty.ts writes', () => {
  expect(text).toBe(bundleText(faultyBundle()))
})

it('gives every kind of advice', () => {
  expect(new Set(advice.map(a => a.kind))).toEqual(new Set(adviceKinds))
  expect(new Set(advice.map(a => a.severity))).toEqual(new Set(['note', 'heed', 'stop']))
})

it('names each sort of thing that the rig does not have', () => {
  const unknown = advice.filter(a => a.kind === 'unknown').map(a => a.says)
  for (const what of ['box "lent"', 'socket "s9"', 'fixture "nobody"', 'build "unheardOf"']) {
    expect(
      unknown.filter(says => says.includes(what)),
      what,
    ).toHaveLength(1)
  }
})

it('flashes in white, red and blue, in each case on the stage, in a part and on single fixtures', () => {
  const flashes = advice.filter(a => a.kind === 'fastFlashes')
  const found = flashes.map(({ place, says }) => {
    const scope = place.fixtures ? 'fixture' : says.includes('whole stage') ? 'stage' : 'part'
    const colour = says.includes('saturated red') ? 'red' : says.includes('one colour') ? 'blue' : 'white'
    return `${place.section}: ${scope}-${colour}`
  })
  const expected = ['stage', 'part', 'fixture'].flatMap(scope =>
    ['white', 'red', 'blue'].map(colour => `${scope}-${colour}: ${scope}-${colour}`),
  )
  expect(found).toEqual(expected)
})

it('stops only on clashes and on a stage that flashes above both limits', () => {
  const clashes = ['overlap', 'past512', 'socketTooSmall', 'decoderTooSmall', 'placedTwice', 'unknown']
  for (const { kind, severity, says } of advice) {
    const isStop = clashes.includes(kind) || (kind === 'fastFlashes' && says.includes('whole stage'))
    expect(severity === 'stop', says).toBe(isStop)
  }
})

it('tells the slow flashing that goes on for more than five seconds once, by its section', () => {
  expect(advice.filter(a => a.kind === 'longFlashing').map(a => a.place.section)).toEqual(['long'])
})
