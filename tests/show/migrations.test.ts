// The rule on migrations: a sample of every version loads, every step is there, newer files are refused.

import { existsSync } from 'node:fs'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import { type DocumentKind, type Ladder, ladders, migrate } from '@glowchart/shared/show/migrations.ts'
import { describe, expect, it } from 'vitest'
import { sampleJson } from './samples.ts'

const parse = { rig: parseRig, show: parseShow }
const versions = (kind: DocumentKind): number[] =>
  Array.from({ length: ladders[kind].current }, (_, i) => i + 1)

describe.each(['rig', 'show'] as const)('%s documents', kind => {
  it.each(versions(kind))('load from a sample of version %i', version => {
    const name = `${kind}-v${version}.json`
    expect(existsSync(new URL(`../samples/${name}`, import.meta.url)), `tests/samples/${name}`).toBe(true)
    const sample = sampleJson(name) as { version: number; name: string }
    expect(sample.version).toBe(version)
    const document = parse[kind](sample, name)
    expect(document.version).toBe(ladders[kind].current)
    expect(document.name).toBe(sample.name)
  })

  it('have a step from every version to the next, and none that goes down or past the current', () => {
    expect(ladders[kind].steps.map(step => step.from)).toEqual(versions(kind).slice(0, -1))
  })

  it('of a newer version are refused, naming both versions', () => {
    const newer = { ...(sampleJson(`${kind}-v1.json`) as object), version: ladders[kind].current + 1 }
    expect(() => parse[kind](newer, 'tour.json')).toThrow(
      expect.objectContaining({ code: 'document.newer', where: 'tour.json: version' }),
    )
  })

  it.each([undefined, 0, -1, 1.5, '1', null])('with version %j are refused', version => {
    const broken = { ...(sampleJson(`${kind}-v1.json`) as object), version }
    expect(() => parse[kind](broken, 'x')).toThrow(expect.objectContaining({ code: 'document.version' }))
  })

  it('keep their sample word for word: what is read is what is written', () => {
    const sample = sampleJson(`${kind}-v${ladders[kind].current}.json`)
    expect(canonicalText(parse[kind](sample, 'sample'))).toBe(canonicalText(sample))
  })
})

describe('climbing', () => {
  const ladder: Ladder = {
    current: 4,
    steps: [
      { from: 1, up: d => ({ ...d, title: d.name }) },
      { from: 2, up: ({ name: _, ...d }) => d },
      { from: 3, up: d => ({ ...d, title: `${d.title}!` }) },
    ],
  }

  it('goes through every step from the version of the file on, and no other', () => {
    const current = { version: 4, title: 'Moth!' }
    expect(migrate({ version: 1, name: 'Moth' }, ladder, 'x')).toEqual(current)
    expect(migrate({ version: 3, title: 'Moth' }, ladder, 'x')).toEqual(current)
    expect(migrate(current, ladder, 'x')).toEqual(current)
  })

  it('leaves the document it was given alone', () => {
    const given = Object.freeze({ version: 1, name: 'Moth' })
    migrate(given, ladder, 'x')
    expect(given).toEqual({ version: 1, name: 'Moth' })
  })
})
