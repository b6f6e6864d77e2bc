// Which songs are read again after an edit: only those that it can have changed.

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, type Told } from '@glowchart/shared/show/edits.ts'
import { isSame, readFrom } from '@glowchart/web/advice/read-from.ts'
import { expect, it } from 'vitest'
import { sampleShow } from './sampleShow.ts'

/** The sample with a second song like the first. */
function twoSongs(): Documents {
  const { rig, show } = sampleShow()
  return applyEdit({ rig, show }, 'duplicateSong', { song: 'song', as: 'other', title: 'Marmalade Again' })
    .next
}

/** Which of the stage and the two songs an edit makes old. */
function oldAfter([name, args]: Told): string[] {
  const before = twoSongs()
  const { next } = applyEdit(before, name, args)
  return [null, 'song', 'other']
    .filter(of => !isSame(readFrom(before, of), readFrom(next, of)))
    .map(of => of ?? 'stage')
}

it.each<[string, Told, string[]]>([
  [
    'a cue of one song',
    ['deleteCues', { song: 'song', cues: [{ section: 'verse', cue: 'first' }] }],
    ['song'],
  ],
  ['the venue’s limit', ['setVenue', { kit: 'kit', strobes: 3 }], ['stage', 'song', 'other']],
  ['a fault', ['openFault', { fixture: 't0', at: '2031-05-04T10:00:00Z', what: 'no blue' }], ['stage']],
  ['the name of the band', ['renameShow', { name: 'The Marmalade Office' }], []],
])('%s', (_, told, old) => {
  expect(oldAfter(told)).toEqual(old)
})
