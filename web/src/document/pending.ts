// What the server has confirmed, and this page's own edits on top of it: shown at once, sent in order, laid anew on
// whatever others do meanwhile.

import type { AppMessage } from '@glowchart/shared/messages.ts'
import { applyDiff, reverseOf, sameValue } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Applied } from '@glowchart/shared/show/edits.ts'
import type { Answer, Question } from '../connection.ts'
import { shownDocuments, useDocument } from './document.ts'

type Hello = Extract<AppMessage, { type: 'hello' }>
type AppliedMessage = Extract<AppMessage, { type: 'applied' }>

/** An edit of this page. */
export interface OwnEdit {
  /** What is sent; null while it must wait, 'never' when it has become void. */
  question(): Question | null | 'never'
  /** @throws CodedError */
  apply(documents: Documents): Applied
  /** As it was last applied here. */
  applied: Applied
  /** Known once the server has answered; stays null for an edit that changed nothing or was refused. */
  revision: number | null
  answered: boolean
}

interface Waiting {
  readonly own: OwnEdit
  readonly resolve: (answer: Answer) => void
  sent: boolean
  /** It is in what is confirmed; its answer comes behind the other edits that became durable together with it. */
  landed: boolean
  /** The connection broke before the answer: it may or may not have been applied. */
  doubtful: boolean
}

let ask: ((question: Question) => Promise<Answer>) | null = null
let confirmed: { documents: Documents; revision: number; you: string } | null = null
let waiting: Waiting[] = []
let changed: () => void = () => {}

/** Says who carries edits to the server; null: nobody. */
export function sendEditsBy(send: typeof ask): void {
  ask = send
}

/** Calls `listener` whenever edits begin or cease to wait. */
export function onWaiting(listener: () => void): void {
  changed = listener
}

/** Edits that the server has not acknowledged. */
export const waitingEdits = (): number => waiting.length

/** Shows an edit that has been applied here, and sends it. Resolves with the server's answer. */
export function put(own: OwnEdit): Promise<Answer> {
  show(own.applied.next)
  const answer = new Promise<Answer>(resolve => {
    waiting.push({ own, resolve, sent: false, landed: false, doubtful: false })
  })
  changed()
  pump()
  return answer
}

/**
 * Takes the whole state, as the server says it on connecting. What waits is sent (again), unless it stands there
 * already. `afresh`: another show, or this one replaced; what waits is void.
 */
export function takeHello(hello: Hello, afresh: boolean): void {
  const documents = { rig: hello.rig, show: hello.show }
  confirmed = { documents, revision: hello.revision, you: hello.you }
  const before = waiting
  const standing = standingIn(documents, before)
  waiting = []
  for (const one of before) {
    one.sent = one.landed = false
    if (afresh) settle(one, { ok: false, problem: null })
    else if (standing.has(one)) settle(one, { ok: true })
    else waiting.push(one)
  }
  layAnew()
  changed()
  pump()
}

/** Takes a durable edit. False when it does not follow on what is confirmed: then the whole state is needed again. */
export function takeApplied(message: AppliedMessage): boolean {
  if (!confirmed || message.revision !== confirmed.revision + 1) {
    return confirmed !== null && message.revision <= confirmed.revision
  }
  try {
    const { document, diff, revision } = message
    const documents = { ...confirmed.documents, [document]: applyDiff(confirmed.documents[document], diff) }
    confirmed = { ...confirmed, documents, revision }
  } catch {
    return false
  }
  if (message.by === confirmed.you) land(message.diff)
  // The answer to an own edit comes soon behind it.
  if (message.by !== confirmed.you || waiting.length === 0) layAnew()
  return true
}

/** Marks the own edit that has become durable: laid on top of itself once more it would be another edit. */
function land(diff: AppliedMessage['diff']): void {
  const under = waiting.filter(one => one.sent && !one.landed)
  const one = under.find(({ own }) => sameValue(own.applied.diff, diff)) ?? under[0]
  if (one) one.landed = true
}

function pump(): void {
  for (const one of waiting) {
    if (one.sent || !ask) continue
    const question = one.own.question()
    if (question === null) return
    if (question === 'never') {
      finish(one, { ok: false, problem: null })
      return
    }
    one.sent = true
    void ask(question).then(answer => {
      if (waiting.includes(one)) finish(one, answer)
    })
  }
}

function finish(one: Waiting, answer: Answer): void {
  if (!answer.ok && answer.problem === null && one.own.question() !== 'never') {
    one.doubtful = true
    return
  }
  waiting = waiting.filter(other => other !== one)
  settle(one, answer)
  layAnew()
  changed()
  pump()
}

function settle(one: Waiting, answer: Answer): void {
  one.own.answered = true
  if (answer.ok) one.own.revision = answer.revision ?? null
  one.resolve(answer)
}

/** Shows what is confirmed with what waits on top of it. What no longer applies is left for the server to refuse. */
function layAnew(): void {
  if (!confirmed) return
  let documents = confirmed.documents
  for (const { own, landed } of waiting) {
    if (landed) continue
    try {
      own.applied = own.apply(documents)
      documents = own.applied.next
    } catch {
      // Nothing of it is shown until the server has answered.
    }
  }
  show(documents)
  const shown = shownDocuments()
  if (waiting.length === 0 && shown) confirmed = { ...confirmed, documents: shown }
}

/** What is equal keeps its identity: an answer must not throw away what is drawn. */
function show({ rig, show }: Documents): void {
  const now = useDocument.getState()
  const next = {
    rig: sameValue(now.rig, rig) ? now.rig : rig,
    show: sameValue(now.show, show) ? now.show : show,
  }
  if (next.rig !== now.rig || next.show !== now.show) useDocument.setState(next)
}

/** Those of the doubtful edits that are there: taken off from the last on, as one may have written over another. */
function standingIn(documents: Documents, edits: readonly Waiting[]): ReadonlySet<Waiting> {
  const standing = new Set<Waiting>()
  let below = documents
  for (const one of edits.toReversed()) {
    if (!one.doubtful) continue
    const { document, diff } = one.own.applied
    try {
      below = { ...below, [document]: applyDiff(below[document], reverseOf(diff)) }
      standing.add(one)
    } catch {
      // Something that it wrote is not there: it goes again.
    }
  }
  return standing
}
