// The documents of a page without anything drawn, bundled and run in a real browser: it edits at random over its socket.

// Before anything that holds a schema: the server's page forbids eval.
import '@glowchart/shared/without-eval.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { shownDocuments } from '@glowchart/web/document/document.ts'
import { edit, redo, undo, useHistory } from '@glowchart/web/document/editing.ts'
import { openDesk } from '@glowchart/web/live/desk.ts'
import { randomEdit } from '../show/random-edits.ts'
import { random } from './random.ts'

/** What was tried and what the server said, in order of asking. */
export interface Tally {
  edits: number
  undos: number
  redos: number
  refused: number
  /** Revisions that the server gave this page's edits, undos and redos. */
  acknowledged: number[]
}

const tally: Tally = { edits: 0, undos: 0, redos: 0, refused: 0, acknowledged: [] }

/** Edits at random for so many ms, without waiting for answers; resolves once all are answered. */
async function editFor(ms: number, seed: number): Promise<Tally> {
  const next = random(seed)
  const until = performance.now() + ms
  const answers: ReturnType<typeof undo>[] = []
  for (let i = 0; performance.now() < until; i++) {
    const dice = next()
    if (dice < 0.7) {
      const { name, args } = randomEdit(shownDocuments()!, next, seed * 100_000 + i)
      answers.push(edit(name, args as never))
      tally.edits++
    } else if (dice < 0.88) {
      answers.push(undo())
      tally.undos++
    } else {
      answers.push(redo())
      tally.redos++
    }
    await new Promise(resolve => setTimeout(resolve, Math.floor(next() * 30)))
  }
  for (const answer of await Promise.all(answers)) {
    if (!answer.ok) tally.refused++
    else if (answer.revision !== undefined) tally.acknowledged.push(answer.revision)
  }
  return tally
}

Object.assign(window, {
  documents: {
    editFor,
    ready: () => shownDocuments() !== null,
    saved: () => useHistory.getState().saved,
    text: () => canonicalText(shownDocuments()),
  },
})
openDesk()
