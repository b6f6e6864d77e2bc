// Several edits made as one step, when the server makes them durable together and answers them only after that.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import type { Ticks } from '@glowchart/shared/time/units.ts'
import type { Answer, Question } from '@glowchart/web/connection.ts'
import { shownDocuments } from '@glowchart/web/document/document.ts'
import { edit, editTogether, startEditing, undo } from '@glowchart/web/document/editing.ts'
import { sendEditsBy, takeApplied } from '@glowchart/web/document/pending.ts'
import { expect, it } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'

it('are all taken back by one undo, though each was answered after all had become durable', async () => {
  let documents: Documents = sampleDocuments()
  let revision = 1
  const done = new Map<number, ReturnType<typeof applyEdit>>()
  let asked: { question: Question; answer: (answer: Answer) => void }[] = []
  sendEditsBy(question => new Promise(answer => asked.push({ question, answer })))
  startEditing(
    { type: 'hello', server: 's', you: 'me', role: 'owner', ...documents, revision, status: null },
    false,
  )
  /** The server's turn: everything asked for becomes durable, every page hears of it, then come the answers. */
  const turn = (): void => {
    const batch = asked
    asked = []
    for (const { question } of batch) {
      if (question.type !== 'edit' && question.type !== 'undo')
        throw new Error('only edits are asked for here')
      const applied =
        question.type === 'edit'
          ? applyEdit(documents, question.edit, question.args)
          : takeBack(documents, done.get(question.revision)!)
      documents = applied.next
      revision += 1
      done.set(revision, applied)
      const { document, diff, says } = applied
      takeApplied({ type: 'applied', revision, by: 'me', edit: 'any', says, document, diff })
    }
    const first = revision - batch.length
    for (const [i, { answer }] of batch.entries()) answer({ ok: true, revision: first + i + 1 })
  }
  const before = canonicalText(documents.show)
  const titles = ['Fog', 'Mist', 'Haze']
  const made = editTogether(
    'Three titles',
    titles.map(title => ['renameSong', { song: 'kettle', title }]),
  )
  turn()
  expect(await made).toMatchObject({ ok: true })
  expect(documents.show.songs.kettle!.title).toBe('Haze')
  const back = undo()
  turn()
  expect(await back).toMatchObject({ ok: true })
  expect(canonicalText(documents.show)).toBe(before)
  expect(canonicalText(shownDocuments()!.show)).toBe(before)
  sendEditsBy(null)
})

it('are not made again after a lost answer, though the second was written over the first', async () => {
  const documents = sampleDocuments()
  const hello = (now: Documents, revision: number) =>
    ({ type: 'hello', server: 's', you: 'me', role: 'owner', ...now, revision, status: null }) as const
  let asked: { question: Question; answer: (answer: Answer) => void }[] = []
  sendEditsBy(question => new Promise(answer => asked.push({ question, answer })))
  startEditing(hello(documents, 1), false)
  const [section, { cues }] = Object.entries(documents.show.songs.kettle!.sections).find(
    ([, { cues }]) => Object.keys(cues).length > 0,
  )!
  const [cue] = Object.keys(cues)
  const move = { song: 'kettle', cues: [{ section, cue: cue! }], by: 240 as Ticks }
  const answers = [edit('moveCues', move), edit('moveCues', move)]
  // Both become durable, and the connection is lost before either answer.
  const first = applyEdit(documents, 'moveCues', move).next
  const second = applyEdit(first, 'moveCues', move).next
  const lost = asked
  asked = []
  for (const { answer } of lost) answer({ ok: false, problem: null })
  await Promise.resolve()
  startEditing(hello(second, 3), false)
  expect(await Promise.all(answers)).toEqual([{ ok: true }, { ok: true }])
  expect(asked).toEqual([])
  expect(canonicalText(shownDocuments()!.show)).toBe(canonicalText(second.show))
  sendEditsBy(null)
})
