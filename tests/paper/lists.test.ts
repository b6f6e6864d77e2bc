// What the patch sheet, labels, pack list, build sheet, set list and house sheet say of the demo.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { buildSheet } from '@glowchart/shared/paper/build-sheet.ts'
import { houseSheet } from '@glowchart/shared/paper/house.ts'
import { labelsOf } from '@glowchart/shared/paper/labels.ts'
import { dmxCables, packList, sparesFor } from '@glowchart/shared/paper/packing.ts'
import { patchSheet } from '@glowchart/shared/paper/patch-sheet.ts'
import { setListRows } from '@glowchart/shared/paper/set-list.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import { parseShow } from '@glowchart/shared/show/document.ts'
import { describe, expect, it } from 'vitest'

const { rig, show } = demoBundle()
const full = show.kits.full!

describe('the patch sheet', () => {
  it('has every address that the patch has', () => {
    const { boxes } = patchSheet(rig, full)
    const rows = boxes.flatMap(box => box.sockets).filter(row => row.fixture !== null)
    const written = new Map(rows.map(row => [row.fixture, row.addresses]))
    for (const { fixture, address, slots } of patch(rig, full).entries) {
      expect(written.get(fixture)).toBe(`${address}–${address + slots - 1}`)
    }
    expect(rows).toHaveLength(16)
  })

  it('keeps a free socket with its addresses', () => {
    const { s3: _, ...sockets } = full.boxes.left!.sockets
    const kit = { ...full, boxes: { ...full.boxes, left: { ...full.boxes.left!, sockets } } }
    const row = patchSheet(rig, kit).boxes[0]!.sockets[2]!
    expect(row).toMatchObject({ fixture: null, name: 'free', addresses: '7–9', plug: 'A3' })
  })
})

describe('a light that is missing tonight', () => {
  const { left } = full.boxes
  const sockets = { ...left!.sockets, s1: { ...left!.sockets.s1!, missing: true } }
  const kit = { ...full, boxes: { ...full.boxes, left: { ...left!, sockets } } }

  it('keeps its line on the patch sheet, which says so', () => {
    expect(patchSheet(rig, kit).boxes[0]!.sockets[0]).toMatchObject({ name: 'Oh 1', tonight: 'missing' })
  })

  it('is neither packed nor a spare', () => {
    const lights = packList(rig, kit).cases.find(one => one.name === 'Lights')!.rows
    expect(lights.find(row => row.what === 'Letters OH')).toMatchObject({ count: 2, which: 'OH-002, OH-003' })
    expect(lights.some(row => row.which.includes('OH-001'))).toBe(false)
  })
})

describe('labels', () => {
  it('are one a box and two a cable, with the switches of the start address', () => {
    const { boxes, cables } = labelsOf(rig, full)
    expect(boxes.map(box => box.address)).toEqual([1, 25])
    // 25 = 1 + 8 + 16, and 24 = 8 + 16.
    expect(boxes[1]!.switches!.map(Number).join('')).toBe('100110000')
    expect(boxes[1]!.switchesAndOne!.map(Number).join('')).toBe('000110000')
    expect(boxes[1]!.dials).toEqual([0, 2, 5])
    expect(cables).toHaveLength(32)
    expect(cables[0]).toMatchObject({ plug: 'A1', fixture: 'Oh 1', cable: '9 m, 16 AWG', end: 'box end' })
  })
})

describe('the pack list', () => {
  const { cases } = packList(rig, full)
  const rows = (name: string) => cases.find(one => one.name === name)!.rows

  it('counts lights by build with their serials, and cables by length', () => {
    expect(rows('Lights').map(row => [row.what, row.count])).toEqual([
      ['Letters OH', 3],
      ['Bulb', 4],
      ['Ring, 60 cm', 2],
      ['Tube, 1.2 m', 7],
    ])
    expect(rows('Lights')[2]!.which).toBe('RG-001, RG-002')
    const cables = rows('Cables to the lights').filter(row => row.what !== 'Spare cables')
    expect(cables.reduce((sum, row) => sum + row.count, 0)).toBe(16)
  })

  it('needs two mains leads and one DMX cable between two boxes (common practice, no source)', () => {
    expect(rows('Mains and data').find(row => row.what === 'Mains leads')!.count).toBe(2)
    expect(dmxCables(rig, full)).toMatchObject({ between: 1, cables: 2, universes: 1 })
  })

  it('takes one spare in ten, one at least', () => {
    expect([0, 1, 10, 11, 16].map(sparesFor)).toEqual([0, 1, 1, 2, 2])
  })

  it('offers what is left of a build as a spare on the smaller kit', () => {
    const spare = packList(rig, show.kits.fly!)
      .cases.find(one => one.name === 'Lights')!
      .rows.find(row => row.what === 'Tube, 1.2 m, spare')!
    expect(spare).toMatchObject({ count: 1, which: 'of TU-005, TU-006, TU-007' })
  })
})

describe('a build sheet', () => {
  it('cuts whole segments and gives amps and watts', () => {
    const sheet = buildSheet(rig, 'tube')
    // 60 LEDs a metre, three in series: 5 cm; 24 segments of 60 mA are 1.44 A, 17.28 W at 12 V.
    expect(sheet.cuts.join(' ')).toContain('24 whole segments')
    expect(sheet.draws.at(-1)).toEqual(['everything on', '1.44 A, 17 W'])
    expect(sheet.turns).toHaveLength(4)
  })

  it('sums the prices that are there, and says nothing where none is', () => {
    const parts = [
      { what: 'Opal pipe', count: 2, price: 3.5 },
      { what: 'Screws', count: 8 },
    ]
    const priced = { ...rig, builds: { ...rig.builds, tube: { ...rig.builds.tube!, parts } } }
    expect(buildSheet(priced, 'tube').price).toBe(7)
    expect(buildSheet(rig, 'tube').price).toBeNull()
  })
})

describe('the set list', () => {
  it('has the songs in order with tempo, meter, length and vamps', () => {
    const { rows, length } = setListRows(show, show.setLists.short!)
    expect(rows.map(row => row.title)).toEqual(show.setLists.short!.songs.map(s => show.songs[s.song]!.title))
    expect(rows[0]).toMatchObject({ number: 1, tempo: '112', meter: '4/4', length: '3:43' })
    expect(rows[3]!.vamps).toHaveLength(1)
    expect(length).toBe('11:53')
  })
})

describe('the sheet for the house', () => {
  it('sums watts and mains amps over the supplies efficiency', () => {
    const { mains, watts, mainsWatts, outlets } = houseSheet(rig, show, full)
    expect(outlets).toBe(2)
    expect(watts).toBeCloseTo(mains[0]!.watts + mains[1]!.watts, 9)
    expect(mainsWatts).toBeCloseTo(watts / 0.85, 6)
    expect(mains[0]!.mainsAmps).toBeCloseTo(mains[0]!.watts / 0.85 / 230, 9)
  })

  it('writes the way of each universe, with net, sub-net and universe of an Art-Net port address', () => {
    const routed = parseShow(
      {
        ...show,
        output: {
          routes: [
            { universe: 1, to: { protocol: 'artnet', host: '2.0.0.10', portAddress: 0x123 } },
            { universe: 1, to: { protocol: 'sacn', host: 'multicast', wireUniverse: 7 } },
          ],
        },
      },
      'test',
    )
    expect(houseSheet(rig, routed, full).universes).toEqual([
      {
        universe: 1,
        slots: '1–24, 25–48',
        ways: [
          'Art-Net 4 to 2.0.0.10, port address 291 (net 1, sub-net 2, universe 3)',
          'sACN (ANSI E1.31), multicast, universe 7, priority 100',
        ],
      },
    ])
  })
})
