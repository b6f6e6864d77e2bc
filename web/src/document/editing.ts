// Editing: applies edits by name on this page at once, sends them, and takes back (or does again) what this page did.

import { CodedError } from '@glowchart/shared/errors.ts'
import type { AppMessage } from '@glowchart/shared/messages.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, type EditArgs, type EditName, type Told, takeBack } from '@glowchart/shared/show/edits.ts'
import { create } from 'zustand'
import { followedNow } from '../access/read-only.ts'
import type { Answer } from '../connection.ts'
import { shownDocuments } from './document.ts'
import { type OwnEdit, onWaiting, put, takeHello, waitingEdits } from './pending.ts'
import { say, useSession } from './session.ts'

interface History {
  /** What undo and redo would take back and do again, in words ("Move Wingbeat"); null when there is nothing. */
  readonly undoSays: string | null
  readonly redoSays: string | null
  /** Every edit of this page is on the server's disk. */
  readonly saved: boolean
  /** What was done to the documents since this page was opened, oldest first. */
  readonly log: readonly LogEntry[]
}

/** One line of the history. Keys rise in time; a step that is taken back and done again keeps its own. */
export interface LogEntry {
  readonly key: number
  readonly says: string
  /** Taken back by now, and still to be done again. */
  readonly undone: boolean
  /** Done on another page: it can be taken back there only. */
  readonly elsewhere: boolean
}

export const useHistory = create<History>(() => ({ undoSays: null, redoSays: null, saved: true, log: [] }))

/** One step back: edits that were made together. */
interface Step {
  readonly key: number
  readonly says: string
  readonly edits: readonly OwnEdit[]
}

export type { Told }

const NOTHING: Answer = { ok: false, problem: null }

/** Edits of other pages that are remembered. */
const MOST_OTHERS = 200

let done: readonly Step[] = []
let undone: readonly Step[] = []
let others: readonly LogEntry[] = []
let lastKey = 0
let you = ''
let server = ''
let show = ''

/**
 * Edits the show or the rig. The page shows it at once; the answer is the server's, once it is durable. Refused, it
 * goes again, and the session's problem says why.
 */
export const edit = <N extends EditName>(name: N, args: EditArgs<N>): Promise<Answer> =>
  editTogether(null, [[name, args] as unknown as Told])

/** Several edits as one step back, all of them or none. @param says its name; null: that of the last edit */
export function editTogether(says: string | null, told: readonly Told[]): Promise<Answer> {
  const steps = told.map(([name, args]) => ({
    apply: (documents: Documents) => applyEdit(documents, name, args),
    question: () => ({ type: 'edit' as const, edit: name, args }),
  }))
  const made = make(steps)
  if (!made) return Promise.resolve(NOTHING)
  if (made.length === 0) return Promise.resolve({ ok: true })
  undone = []
  lastKey += 1
  return carryOut({ key: lastKey, says: says ?? made.at(-1)!.applied.says, edits: made }, step => {
    done = [...done, step]
  })
}

/** Takes back this page's last step. */
export function undo(): Promise<Answer> {
  const step = done.at(-1)
  if (!step) return Promise.resolve(NOTHING)
  done = done.slice(0, -1)
  return reverse(step, 'Undone', back => {
    undone = [...undone, back]
  })
}

/** Does again what was taken back last. */
export function redo(): Promise<Answer> {
  const step = undone.at(-1)
  if (!step) return Promise.resolve(NOTHING)
  undone = undone.slice(0, -1)
  return reverse(step, 'Done again', again => {
    done = [...done, again]
  })
}

/** The key of the step that undo would take back; 0: there is none. */
export const lastStep = (): number => done.at(-1)?.key ?? 0

/**
 * Goes to the moment after a line of the history, or before all of them (0): takes back this page's own later steps, or
 * does again those up to it. Stops where one is refused; the session's problem says why.
 */
export function goToStep(key: number): void {
  for (let left = done.length; left > 0 && lastStep() > key; left = done.length) {
    const steps = undone.length
    void undo()
    if (undone.length === steps) return
  }
  for (let next = undone.at(-1); next && next.key <= key; next = undone.at(-1)) {
    const steps = done.length
    void redo()
    if (done.length === steps) return
  }
}

/** Takes note of an edit that was made on another page. */
export function noteOthers({ by, says }: Extract<AppMessage, { type: 'applied' }>): void {
  if (by === you) return
  lastKey += 1
  others = [...others.slice(1 - MOST_OTHERS), { key: lastKey, says, undone: false, elsewhere: true }]
  tell()
}

/** Takes the server's greeting. Another show, or one replaced while connected, has no history. */
export function startEditing(hello: Extract<AppMessage, { type: 'hello' }>, replaced: boolean): void {
  const afresh = replaced || (show !== '' && show !== hello.show.id)
  if (afresh || server !== hello.server) {
    done = undone = []
    others = []
  }
  you = hello.you
  server = hello.server
  show = hello.show.id
  takeHello(hello, afresh)
  tell()
}

function reverse(step: Step, verb: string, keep: (step: Step) => void): Promise<Answer> {
  const steps = [...step.edits].reverse().map(target => ({
    apply: (documents: Documents) => takeBack(documents, target.applied),
    question: () => {
      if (target.revision !== null) return { type: 'undo' as const, revision: target.revision }
      return target.answered ? ('never' as const) : null
    },
  }))
  const made = make(steps)
  if (!made) {
    tell()
    return Promise.resolve(NOTHING)
  }
  say(`${verb}: ${step.says}`)
  return carryOut({ ...step, edits: made }, keep)
}

/** Applies one after the other on what is shown; null, and nothing applied, when one is refused. */
function make(steps: readonly Pick<OwnEdit, 'apply' | 'question'>[]): OwnEdit[] | null {
  let documents = shownDocuments()
  if (!documents) return null
  useSession.setState({ problem: null })
  const made: OwnEdit[] = []
  try {
    const followed = followedNow()
    // The server would say so too; but what is drawn would jump there and back.
    if (followed !== null)
      throw new CodedError('understudy.follows', `this laptop follows ${followed}`, 'edit')
    for (const step of steps) {
      const applied = step.apply(documents)
      documents = applied.next
      if (applied.diff.length > 0) made.push({ ...step, applied, revision: null, answered: false })
    }
    return made
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    useSession.setState({ problem: error.problem })
    say(error.message)
    return null
  }
}

async function carryOut(step: Step, keep: (step: Step) => void): Promise<Answer> {
  keep(step)
  const answers = step.edits.map(put)
  tell()
  const all = await Promise.all(answers)
  const refused = all.find(answer => !answer.ok)
  if (refused || all.every(answer => answer.ok && answer.revision === undefined)) {
    // There is nothing of it that could be taken back whole.
    done = done.filter(other => other !== step)
    undone = undone.filter(other => other !== step)
  }
  tell()
  return refused ?? all.at(-1) ?? { ok: true }
}

function tell(): void {
  const now = useHistory.getState()
  const log = logNow()
  const next = {
    undoSays: done.at(-1)?.says ?? null,
    redoSays: undone.at(-1)?.says ?? null,
    saved: waitingEdits() === 0,
    log: log.length === now.log.length && log.every((one, i) => isSame(one, now.log[i]!)) ? now.log : log,
  }
  if (
    next.log !== now.log ||
    next.undoSays !== now.undoSays ||
    next.redoSays !== now.redoSays ||
    next.saved !== now.saved
  ) {
    useHistory.setState(next)
  }
}
onWaiting(tell)

function logNow(): LogEntry[] {
  const own = (steps: readonly Step[], isUndone: boolean) =>
    steps.map(({ key, says }) => ({ key, says, undone: isUndone, elsewhere: false }))
  return [...own(done, false), ...own(undone, true), ...others].sort((a, b) => a.key - b.key)
}

const isSame = (a: LogEntry, b: LogEntry): boolean => a.key === b.key && a.undone === b.undone
