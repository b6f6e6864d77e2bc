// GDTF files after DIN SPEC 15800: modes and channels read, made into builds, and damaged files refused.

import { CodedError } from '@glowchart/shared/errors.ts'
import { openGdtf } from '@glowchart/shared/gdtf/archive.ts'
import { buildFromMode } from '@glowchart/shared/gdtf/build.ts'
import { dmxShare, readFixture } from '@glowchart/shared/gdtf/modes.ts'
import { rigSchema } from '@glowchart/shared/rig/schema.ts'
import fc from 'fast-check'
import { strToU8, zipSync } from 'fflate'
import { describe, expect, it } from 'vitest'
import { archive, description } from './fixture.ts'

const read = (bytes: Uint8Array) => readFixture(openGdtf(bytes, 'bar.gdtf'), 'bar.gdtf')
const refused = (bytes: Uint8Array): string => {
  try {
    const fixture = read(bytes)
    for (const mode of fixture.modes) buildFromMode(mode, 'bar.gdtf')
    return 'taken'
  } catch (error) {
    if (error instanceof CodedError) return error.code
    throw error
  }
}
const changed = (from: string | RegExp, to: string) => archive(description.replace(from, to))

describe('a GDTF file', () => {
  const fixture = read(archive())

  it('names the fixture, its maker and its modes', () => {
    expect(fixture.name).toBe('Bar of four & a head')
    expect(fixture.maker).toBe('Hedgerow Lamps')
    expect(fixture.modes.map(mode => [mode.name, mode.slots])).toEqual([
      ['Cells', 13],
      ['Three slots', 3],
    ])
  })

  it('writes out the cells that its geometry repeats, at their offsets', () => {
    const cells = fixture.modes[0]!.channels.filter(channel => channel.attribute.startsWith('ColorAdd'))
    expect(cells.map(({ attribute, slots }) => `${attribute.slice(-1)}${slots}`)).toEqual([
      'R6',
      'G7',
      'B8',
      'W9',
      'R10',
      'G11',
      'B12',
      'W13',
    ])
    expect(new Set(cells.map(channel => channel.geometry))).toEqual(
      new Set(['Body/Yoke/Cell 1', 'Body/Yoke/Cell 2']),
    )
  })

  it('becomes a build: a dimmer of 16 bits, two RGBW cells, pan in the middle and the shutter open', () => {
    const made = buildFromMode(fixture.modes[0]!, 'bar.gdtf')
    expect(made.channels).toEqual([
      { does: 'fixed', value: 128 / 255, bits: 8, label: 'Pan' },
      { does: 'fixed', value: 0, bits: 8, label: 'Pan, fine' },
      { does: 'intensity', bits: 16 },
      { does: 'fixed', value: 15 / 255, bits: 8, label: 'Shutter1' },
      ...[0, 1].flatMap(cell => ['red', 'green', 'blue', 'white'].map(does => ({ does, cell, bits: 8 }))),
    ])
    expect(made.cells).toBe(2)
    expect(made.parked).toEqual(['Pan', 'Shutter1'])
    const build = {
      name: 'Bar',
      shape: 'bar',
      size: { long: 1, across: 0.1 },
      cells: made.cells,
      channels: made.channels,
    }
    expect(rigSchema.shape.builds.valueType.safeParse(build).success).toBe(true)
  })

  it('reads DMX values of one to four bytes, and the older default on the channel', () => {
    expect(dmxShare('255/1')).toBe(1)
    expect(dmxShare('32768/2')).toBeCloseTo(0.5, 4)
    expect(dmxShare('128/1s')).toBeCloseTo(128 / 255, 9)
    expect(dmxShare('nonsense')).toBe(0)
    const older = read(
      changed(
        '<LogicalChannel Attribute="Pan"><ChannelFunction Name="Pan 1" Attribute="Pan" DMXFrom="0/2" Default="32768/2"/>',
        '<LogicalChannel Attribute="Pan">',
      ),
    )
    expect(older.modes[0]!.channels[0]!.default).toBe(0)
  })
})

describe('is refused with a code', () => {
  it.each([
    ['nothing', new Uint8Array(0), 'gdtf.notGdtf'],
    ['no archive', strToU8('<GDTF/>'), 'gdtf.notGdtf'],
    ['an archive without description', zipSync({ 'a.txt': strToU8('a') }), 'gdtf.notGdtf'],
    ['an archive cut short', archive().slice(0, 400), 'gdtf.damaged'],
    ['a description cut short', archive(description.slice(0, 900)), 'gdtf.damaged'],
    ['another document', archive('<Other/>'), 'gdtf.notGdtf'],
    ['no fixture type', archive('<GDTF/>'), 'gdtf.damaged'],
    ['no mode', changed(/<DMXModes>[\s\S]*<\/DMXModes>/, ''), 'gdtf.noModes'],
    ['a geometry that is not there', changed('Geometry="Yoke"', 'Geometry="Nowhere"'), 'gdtf.damaged'],
    ['offsets that are none', changed('Offset="3,4"', 'Offset="3,x"'), 'gdtf.damaged'],
    [
      'two channels on one slot',
      changed('Offset="5" Geometry="Body"', 'Offset="6" Geometry="Body"'),
      'gdtf.slots',
    ],
    ['two start addresses', changed('DMXBreak="1" Offset="5"', 'DMXBreak="2" Offset="5"'), 'gdtf.breaks'],
    ['no light', changed(/ColorAdd_/g, 'Gobo'), 'gdtf.noLight'],
    [
      'geometries in a circle',
      changed(
        '<Beam Name="Cell"/>',
        '<Beam Name="Cell"><GeometryReference Name="Again" Geometry="Cell"/></Beam>',
      ),
      'gdtf.damaged',
    ],
  ])('%s', (_, bytes, code) => {
    expect(refused(bytes)).toBe(code)
  })

  it('a description that would fill the memory, before it is unpacked', () => {
    const bomb = zipSync({ 'description.xml': new Uint8Array(17 * 1024 * 1024) })
    expect(bomb.length).toBeLessThan(100_000)
    expect(refused(bomb)).toBe('gdtf.tooLarge')
  })

  it('entities that name one another are not followed', () => {
    const lol = `<!DOCTYPE GDTF [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>`
    const text = description.replace('<GDTF ', `${lol}<GDTF `).replace('Hedgerow Lamps', '&b;&b;&b;')
    expect(refused(archive(text)).length).toBeGreaterThan(0)
  })

  it('whatever bytes of it are changed: coded, or taken', () => {
    const bytes = archive()
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(bytes.length - 1), fc.nat(255)), { minLength: 1, maxLength: 8 }),
        edits => {
          const broken = bytes.slice()
          for (const [at, value] of edits) broken[at] = value
          expect(typeof refused(broken)).toBe('string')
        },
      ),
      { numRuns: 400 },
    )
  })

  it('whatever text its description has: coded, or taken', () => {
    fc.assert(
      fc.property(fc.nat(description.length), fc.nat(60), fc.string({ maxLength: 12 }), (at, cut, put) => {
        expect(typeof refused(archive(description.slice(0, at) + put + description.slice(at + cut)))).toBe(
          'string',
        )
      }),
      { numRuns: 400 },
    )
  })
})
