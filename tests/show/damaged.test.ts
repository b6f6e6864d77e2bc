// Damaged files: each is refused with its own code, naming the place; and the words are plain.

import { readdirSync, readFileSync } from 'node:fs'
import { CodedError } from '@glowchart/shared/errors.ts'
import { bundleText, parseBundle } from '@glowchart/shared/show/bundle.ts'
import { parseShow } from '@glowchart/shared/show/document.ts'
import { parseJson } from '@glowchart/shared/show/json.ts'
import { describe, expect, it } from 'vitest'
import { damaged } from './damaged.ts'
import { sampleDocuments, sampleJson } from './samples.ts'

const folder = new URL('../samples/damaged/', import.meta.url)
const text = (file: string): string => readFileSync(new URL(file, folder), 'utf8')

function problemOf(read: () => unknown): CodedError {
  try {
    read()
  } catch (error) {
    if (error instanceof CodedError) return error
    throw error
  }
  throw new Error('it was read')
}

describe('a damaged bundle', () => {
  it('is among the samples in at least twelve kinds, each with a code of its own', () => {
    expect(readdirSync(folder).sort()).toEqual(Object.keys(damaged).sort())
    expect(new Set(Object.values(damaged).map(([code]) => code)).size).toBeGreaterThanOrEqual(12)
  })

  it.each(Object.entries(damaged))('%s is refused with %j', (file, [code, place]) => {
    const error = problemOf(() => parseBundle(text(file), file))
    expect([error.code, error.where]).toEqual([code, file + place])
    expect(error.problem.remedy.length).toBeGreaterThan(10)
    // In plain words: no term of the schema library.
    expect(error.message).not.toMatch(/invalid|expected|received|undefined|object Object/i)
  })

  it.each(['constructor', 'toString', 'valueOf'])(
    'under the id %s, which every record has, is refused',
    id => {
      const { show } = sampleDocuments()
      const kit = show.kits.full!
      const boxes = { ...kit.boxes, [id]: Object.values(kit.boxes)[0]! }
      const other = { ...show, kits: { ...show.kits, full: { ...kit, boxes } } }
      expect(problemOf(() => parseShow(other, 'x'))).toMatchObject({
        code: 'document.schema',
        where: `x: kits.full.boxes.${id}`,
      })
    },
  )

  it('is all that is refused: the sample they were made from is read, and writes the same bytes again', () => {
    const bundle = sampleDocuments()
    const written = bundleText(bundle)
    expect(parseBundle(written, 'whole')).toEqual({ ...bundle, audio: {} })
    expect(bundleText(parseBundle(written, 'whole'))).toBe(written)
  })

  it('larger than 256 MiB is refused before it is read', () => {
    expect(problemOf(() => parseBundle(' '.repeat(256 * 1024 * 1024 + 1), 'big')).code).toBe('file.tooLarge')
  })
})

describe('the place of a fault in JSON', () => {
  it.each([
    ['{"a": 1,}', 1, 9],
    ['{"a" 1}', 1, 6],
    ['{"a": 1}\n}', 2, 1],
    ['{\n "a": tru\n}', 2, 7],
    ['[1, 2', 1, 6],
    ['["a\nb"]', 1, 2],
    ['[01]', 1, 2],
    ['{a: 1}', 1, 2],
    ['["\\x"]', 1, 2],
    ['[1}', 1, 3],
    ['[-]', 1, 2],
    ["{'a': 1}", 1, 2],
  ])('%j is line %i, column %i', (json, line, column) => {
    const error = problemOf(() => parseJson(json, 'f'))
    expect([error.code, error.where]).toEqual(['file.notJson', `f: line ${line}, column ${column}`])
  })

  it('is found in texts of megabytes without running out of stack', () => {
    const long = `{"a": "${'x\\n'.repeat(2_000_000)}", "b": nul}`
    expect(problemOf(() => parseJson(long, 'f')).where).toBe(`f: line 1, column ${long.indexOf('nul}') + 1}`)
    const deep = '['.repeat(1_000_000)
    expect(problemOf(() => parseJson(deep, 'f')).where).toBe('f: line 1, column 1000001')
  })
})

describe('the words for a field of the wrong kind', () => {
  /** What the sample is refused with when the field at `path` is `value` (undefined: is not there). */
  function says(path: string, value: unknown): string {
    const show = structuredClone(sampleJson('show-v2.json'))
    const keys = path.split('.')
    const last = keys.pop()!
    let node = show as Record<string, unknown>
    for (const key of keys) node = node[key] as Record<string, unknown>
    if (value === undefined) delete node[last]
    else node[last] = value
    return problemOf(() => parseShow(show, 's')).message
  }

  it.each([
    ['songs.kettle.bpm', 'fast', 'a number, but is the text "fast"'],
    ['songs.kettle.bpm', 4000, 'at most 400, but is 4000'],
    ['songs.kettle.title', undefined, 'a text, but is missing'],
    ['songs.kettle.title', '', 'a text of at least 1 characters, but is the text ""'],
    ['songs.kettle.sections.verse.bars', 1.5, 'a whole number, but is 1.5'],
    ['swatches.rust.hex', 'red', 'a colour such as "#e0a030", but is the text "red"'],
    ['output.routes.0.to.host', 'stage', 'an IPv4 address such as 127.0.0.1, but is the text "stage"'],
    ['output.routes.0.to.protocol', 'smoke', 'one of "artnet", "sacn", but is the text "smoke"'],
    ['kits', [], 'an object, but is a list of 0'],
    ['partOrder', 'tubes', 'a list, but is the text "tubes"'],
  ])('name the path, what it must be, and what it is: %s %j', (path, value, words) => {
    expect(says(path, value)).toBe(`${path}: must be ${words}`)
  })

  const cues = 'songs.kettle.sections.verse.cues'
  it.each([
    [`${cues}.v2.light.level`, 1.5, '', 'at most 1, but is 1.5'],
    [`${cues}.v2.light.level`, [{ at: 0, level: 'loud' }], '.0.level', 'a number, but is the text "loud"'],
    [`${cues}.v2.light.motion.spread`, 9, '', 'at most 8, but is 9'],
    [`${cues}.v3.light`, { look: 7 }, '.look', 'a text, but is 7'],
    [`${cues}.v2.light.motion.rate`, { ticks: 0 }, '.ticks', 'at least 1, but is 0'],
  ])('look into the kind of light that was meant: %s %j', (path, value, below, words) => {
    expect(says(path, value)).toBe(`${path}${below}: must be ${words}`)
  })

  it('say which ids are possible', () => {
    expect(says('parts.a b', { name: 'x' })).toMatch(/^parts\.a b: must be under an id: made of letters/)
  })
})
