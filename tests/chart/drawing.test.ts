// A drawing brought up to date is the drawing made afresh: only the columns that an edit lit anew are drawn again.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { blankDrawing, type Drawing, drawRoll } from '@glowchart/web/chart/roll/draw.ts'
import type { RollShape } from '@glowchart/web/chart/roll/request.ts'
import { describe, expect, it } from 'vitest'
import { LONG, longShow } from '../support/long-show.ts'
import { random } from '../support/random.ts'

const BAR = 3840
/** By reach of the bloom and device px a CSS px: the blur is made at several sizes. */
const shapes: RollShape[] = [
  { bloom: 5, scale: 1 },
  { bloom: 5, scale: 2 },
  { bloom: 3, scale: 1 },
  { bloom: 3, scale: 1.5 },
].map(how => ({
  edges: [0, 1, 2, 3, 4, 5, 6, 7, 8].map(bar => bar * BAR),
  barWidth: 37,
  rows: [
    { y: 0, height: 24, strands: [0, 4, 8].map(firstCell => ({ firstCell, cells: 1 })) },
    { y: 30, height: 20, strands: [{ firstCell: 1, cells: 3 }] },
  ],
  height: 50,
  pad: 10,
  ...how,
}))

function draw(drawing: Drawing, { rig, show }: Documents, shape: RollShape): Uint8ClampedArray {
  drawRoll(drawing, compileSong(rig, show, show.tonight, LONG.song), show.output.rate, shape)
  return drawing.data.slice()
}

/** The largest difference of two pictures in what is seen of a channel, of 255. */
function apart(a: Uint8ClampedArray, b: Uint8ClampedArray): number {
  let most = 0
  for (let i = 0; i < a.length; i += 4) {
    for (let channel = 0; channel < 3; channel++) {
      most = Math.max(most, Math.abs(a[i + channel]! * a[i + 3]! - b[i + channel]! * b[i + 3]!) / 255)
    }
  }
  return most
}

describe('a drawing that is kept', () => {
  it.each(shapes)('is after every edit what it would be drawn afresh (bloom $bloom, scale $scale)', shape => {
    const next = random(31)
    let documents = longShow({ sections: 4, cues: 80, fixtures: 12 })
    const kept = blankDrawing(shape)
    let before = draw(kept, documents, shape)
    let seen = 0
    for (let i = 0; i < 12; i++) {
      const section = `s${Math.floor(next() * 2)}`
      const all = Object.keys(documents.show.songs[LONG.song]!.sections[section]!.cues)
      const cues = [{ section, cue: all[Math.floor(next() * all.length)]! }]
      documents =
        i % 3 === 2
          ? applyEdit(documents, 'deleteCues', { song: LONG.song, cues }).next
          : applyEdit(documents, 'moveCues', { song: LONG.song, cues, by: 240 }).next
      const after = draw(kept, documents, shape)
      // A blur of a part sums in another order: a value may round the other way.
      expect(apart(after, draw(blankDrawing(shape), documents, shape))).toBeLessThanOrEqual(1.01)
      if (apart(after, before) > 8) seen++
      before = after
    }
    expect(seen).toBeGreaterThan(5)
  })
})
