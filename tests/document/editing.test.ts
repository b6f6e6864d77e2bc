// One page and a rival edit the same show at random, over a slow and ordered wire and a slow disk, with connections
// lost on the way: both end with what the server has, and nothing that was acknowledged is lost.

import type { DocumentStore } from '@glowchart/server/app/documents.ts'
import { startEditing as serveEditing } from '@glowchart/server/app/editing.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Answer, Question } from '@glowchart/web/connection.ts'
import { shownDocuments } from '@glowchart/web/document/document.ts'
import { edit, redo, startEditing, undo, useHistory } from '@glowchart/web/document/editing.ts'
import { sendEditsBy, takeApplied, waitingEdits } from '@glowchart/web/document/pending.ts'
import { expect, it } from 'vitest'
import { randomEdit } from '../show/random-edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import { random } from '../support/random.ts'

const turn = () => new Promise<void>(resolve => setImmediate(resolve))

/** The page's wire to the server's real editing: messages arrive in order, each some turns late. */
function wire(server: ReturnType<typeof serveEditing>, next: () => number) {
  let line = 0
  let settle = new Set<(answer: Answer) => void>()
  let queue = Promise.resolve()
  const faults: unknown[] = []
  const deliver = (on: number, message: () => void) => {
    queue = queue.then(async () => {
      for (let i = Math.floor(next() * 3); i > 0; i--) await turn()
      try {
        if (on === line) message()
      } catch (error) {
        faults.push(error)
      }
    })
  }
  server.listen({
    applied(edits) {
      for (const message of edits) {
        const { documents } = server
        const isLast = message === edits.at(-1)
        deliver(line, () => {
          expect(takeApplied(message)).toBe(true)
          // With nothing of its own under way, a page shows at once what the server had with this edit.
          if (isLast && waitingEdits() === 0) expect(sameValue(shownDocuments(), documents)).toBe(true)
        })
      }
    },
    opened() {},
  })
  const ask = (question: Question): Promise<Answer> =>
    new Promise(resolve => {
      const on = line
      settle.add(resolve)
      void (async () => {
        for (let i = Math.floor(next() * 3); i > 0; i--) await turn()
        // Lost on the way there, or else on the way back.
        if (on !== line && next() < 0.5) return
        let answer: Answer
        try {
          const revision =
            question.type === 'undo'
              ? await server.undo('page-under-test', question.revision)
              : question.type === 'edit' &&
                (await server.edit('page-under-test', question.edit, question.args))
          answer = typeof revision === 'number' ? { ok: true, revision } : { ok: true }
        } catch (error) {
          if (!(error instanceof CodedError)) throw error
          answer = { ok: false, problem: error.problem }
        }
        deliver(on, () => {
          settle.delete(resolve)
          resolve(answer)
        })
      })()
    })
  const greet = () => {
    const hello: Extract<AppMessage, { type: 'hello' }> = {
      type: 'hello',
      role: 'owner',
      server: 'server-1',
      you: 'page-under-test',
      ...server.documents,
      revision: server.revision,
      status: null,
    }
    startEditing(hello, false)
  }
  return {
    faults,
    ask,
    greet,
    async lose() {
      line++
      const lost = settle
      settle = new Set()
      for (const resolve of lost) resolve({ ok: false, problem: null })
      await turn()
      greet()
    },
  }
}

it.each([1, 2, 3, 4])('ends equal to the server after random edits of two (seed %i)', async seed => {
  const next = random(seed)
  const store = {
    folder: 'memory',
    keep: async () => {
      for (let i = Math.floor(next() * 4); i >= 0; i--) await turn()
    },
  } as unknown as DocumentStore
  const server = serveEditing(store, sampleDocuments())
  const line = wire(server, next)
  sendEditsBy(line.ask)
  line.greet()
  const answers: Promise<Answer>[] = []
  let acknowledged = 0
  for (let i = 0; i < 300; i++) {
    const dice = next()
    if (dice < 0.45) {
      const { name, args } = randomEdit(shownDocuments()!, next, i)
      answers.push(edit(name, args as never))
    } else if (dice < 0.55) answers.push(undo())
    else if (dice < 0.62) answers.push(redo())
    else if (dice < 0.8) {
      const { name, args } = randomEdit(server.documents, next, 10_000 + i)
      await server.edit('rival', name, args).catch(error => expect(error).toBeInstanceOf(CodedError))
    } else if (dice < 0.82) await line.lose()
    else if (dice < 0.88) {
      // A rest, and then the rival alone.
      await Promise.all(answers)
      const { name, args } = randomEdit(server.documents, next, 20_000 + i)
      await server.edit('rival', name, args).catch(error => expect(error).toBeInstanceOf(CodedError))
    } else await turn()
  }
  for (const answer of await Promise.all(answers)) if (answer.ok && answer.revision) acknowledged++
  await expect.poll(() => useHistory.getState().saved).toBe(true)
  await server.close()
  await expect.poll(() => canonicalText(shownDocuments()!.show)).toBe(canonicalText(server.documents.show))
  expect(canonicalText(shownDocuments()!.rig)).toBe(canonicalText(server.documents.rig))
  expect(line.faults).toEqual([])
  expect(acknowledged).toBeGreaterThan(40)
  sendEditsBy(null)
})
