// The demo on its smaller kit: what would go dark is listed, nothing does with stand-ins, and a chase keeps its time.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { lossesText, retarget } from '@glowchart/shared/advice/retarget.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'

const bundle = demoBundle()

/** The small kit with nobody standing in for anybody. */
function alone() {
  let documents = bundle
  for (const part of ['rings', 'foots']) {
    const edit = { kit: 'fly', part, fixtures: [], standIn: null }
    documents = applyEdit(documents, 'setPartFixtures', edit).next
  }
  return documents
}

describe('the demo from sixteen lights to eight', () => {
  it('lists the parts that have no light, and each song’s cues that would stay dark', () => {
    const { rig, show } = alone()
    const found = retarget(rig, show, 'full', 'fly')
    expect(found.parts.map(({ part, becomes }) => [part, becomes])).toEqual([
      ['letters', 'fewer'],
      ['bulbs', 'fewer'],
      ['rings', 'empty'],
      ['tubes', 'fewer'],
      ['foots', 'empty'],
    ])
    expect(new Set(found.dark.flatMap(({ place }) => place.parts))).toEqual(new Set(['rings', 'foots']))
    expect(new Set(found.dark.map(({ place }) => place.song)).size).toBe(show.songOrder.length)
    expect(lossesText(found)).toMatch(/^2 parts without light, 3 parts on fewer lights and \d+ cues dark$/)
  })

  it('loses nothing to the dark once the proposed parts stand in', () => {
    let documents = alone()
    for (const { part, proposed } of retarget(documents.rig, documents.show, 'full', 'fly').parts) {
      if (proposed === null) continue
      const edit = { kit: 'fly', part, fixtures: [], standIn: proposed }
      documents = applyEdit(documents, 'setPartFixtures', edit).next
    }
    const found = retarget(documents.rig, documents.show, 'full', 'fly')
    expect(found.dark).toEqual([])
    expect(found.parts.filter(({ becomes }) => becomes === 'standIn')).toHaveLength(2)
    expect(
      retarget(documents.rig, documents.show, 'full', 'full').parts.every(p => p.becomes === 'same'),
    ).toBe(true)
  })

  it('takes one step, and one back', () => {
    const step = applyEdit(bundle, 'chooseKit', { kit: 'fly' })
    expect(step.next.show.tonight).toBe('fly')
    expect(step.diff).toHaveLength(1)
  })
})

describe('a chase over a part', () => {
  /** Ticks from when the first light of the tubes begins to when the last does, over one cycle of a chase. */
  function run(kit: string): number {
    const light = {
      level: 1,
      colours: { along: 'none' as const, colour: { hex: '#ffffff' } },
      motion: { kind: 'chase' as const, rate: { ticks: 3840 }, spread: 1, duty: 0.2, shape: 0 },
    }
    const add = (documents: typeof bundle, name: string, args: unknown) =>
      applyEdit(documents, name, args).next
    let documents = add(bundle, 'addSong', {
      song: 'run',
      title: 'Run',
      bpm: 120,
      meter: { beats: 4, unit: 4 },
      section: 'a',
      sectionName: 'A',
      bars: 4,
    })
    documents = add(documents, 'addTrack', { song: 'run', track: 't', part: 'tubes' })
    const cue = { track: 't', at: 0, length: 4 * 3840, light }
    documents = add(documents, 'addCues', { song: 'run', section: 'a', cues: { c: cue } })
    const song = compileSong(documents.rig, documents.show, kit, 'run')
    const scratch = renderScratch(song)
    const cells = new Float32Array(3 * song.stage.cells)
    const order = song.stage.parts.tubes!.fixtures
    const [first, last] = [order[0]!, order.at(-1)!].map(i => song.stage.fixtures[i]!.firstCell * 3)
    const begins: number[] = []
    for (const at of [first!, last!]) {
      let was = true
      for (let tick = 3840; tick < 3 * 3840; tick++) {
        renderLight(song, ticks(tick), ticks(tick), freshLive(), scratch, cells)
        const lit = cells[at]! > 0.5
        if (lit && !was) {
          begins.push(tick)
          break
        }
        was = lit
      }
    }
    return Math.abs(begins[1]! - begins[0]!) % 3840
  }

  it('takes as long on four tubes as on five, within a frame', () => {
    // A frame at 40 Hz and 120 BPM is 48 ticks.
    expect(Math.abs(run('full') - run('fly'))).toBeLessThanOrEqual(48)
  })
})
