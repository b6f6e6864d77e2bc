// Compiling again after an edit: only what was touched, with the same result as compiling everything.

import { CodedError } from '@glowchart/shared/errors.ts'
import { compileSong, songCompiler } from '@glowchart/shared/render/compile.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { describe, expect, it } from 'vitest'
import { randomEdit } from '../show/random-edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import { LONG, longShow } from '../support/long-show.ts'
import { random } from '../support/random.ts'

describe('a compiler that remembers', () => {
  it('gives after every edit of a long random session what compiling afresh gives', () => {
    const next = random(20_261_125)
    const compile = songCompiler()
    let documents = sampleDocuments()
    let compared = 0
    for (let i = 0; i < 400; i++) {
      try {
        const { name, args } = randomEdit(documents, next, i)
        documents = applyEdit(documents, name, args).next
      } catch (error) {
        if (!(error instanceof CodedError)) throw error
        continue
      }
      const { rig, show } = documents
      const song = show.songOrder[i % 5 === 0 ? show.songOrder.length - 1 : 0]
      if (song === undefined) continue
      expect(compile(rig, show, show.tonight, song)).toEqual(compileSong(rig, show, show.tonight, song))
      compared++
    }
    expect(compared).toBeGreaterThan(100)
  })

  it('compiles the one track that an edit touches, and keeps the others', () => {
    const documents = longShow({ sections: 4, cues: 96, fixtures: 8 })
    const compile = songCompiler()
    const compiled = (of: typeof documents) => compile(of.rig, of.show, of.show.tonight, LONG.song)
    const before = compiled(documents)
    const cues = [{ section: LONG.section, cue: LONG.cue }]
    const after = compiled(applyEdit(documents, 'moveCues', { song: LONG.song, cues, by: 60 }).next)
    const { track } = documents.show.songs[LONG.song]!.sections[LONG.section]!.cues[LONG.cue]!
    for (const [i, { id }] of after.tracks.entries()) {
      expect(after.tracks[i] === before.tracks[i], id).toBe(id !== track)
    }
  })
})
