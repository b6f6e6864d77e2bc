// What the app has to say to the log of the night: who came, which show is open, what was damaged, edits that were not saved.

import type { AccessState } from '@glowchart/shared/access/access.ts'
import { counted } from '@glowchart/shared/advice/words.ts'
import type { Problem } from '@glowchart/shared/errors.ts'
import type { Access } from '../access/access.ts'
import type { Editing } from './editing.ts'
import type { SupervisorLink } from './supervisor-link.ts'

const may = { viewer: 'looks on', checker: 'may check lines', controller: 'has the controls' } as const

interface Options {
  supervisor: SupervisorLink
  access: Access
  editing: Editing
  /** What was found damaged as the app started. */
  damaged: readonly Problem[]
}

export function noteNight({ supervisor, access, editing, damaged }: Options): void {
  for (const { where, message } of damaged) supervisor.note('server', `${where}: ${message}.`, true)
  /** Edits refused since one was saved last: a full disk is told when it begins and when it is over. */
  let lost = 0
  editing.listen({
    applied() {
      if (lost > 0) supervisor.note('server', `Edits are saved again; ${counted(lost, 'edit')} could not be.`)
      lost = 0
    },
    refused(edits, why) {
      if (lost === 0) supervisor.note('server', `Edits are refused: ${why}.`, true)
      lost += edits
    },
    opened: () => supervisor.note('server', `The show ${editing.documents.show.name} is open now.`),
  })
  const stateNow = (): AccessState => access.state(() => 0)
  let before = stateNow()
  access.listen(() => {
    const now = stateNow()
    for (const says of changesOf(before, now)) supervisor.note('page', says)
    before = now
  })
}

/** Who joined, who was given more or less, who has gone; and whether others may come at all. */
export function changesOf(before: AccessState, now: AccessState): string[] {
  const says: string[] = []
  if (now.open?.address !== before.open?.address) {
    says.push(now.open ? `Phones may join at ${now.open.address}.` : 'No phone may join any more.')
  }
  const known = new Map(before.guests.map(guest => [guest.id, guest]))
  for (const { id, name, role } of now.guests) {
    const was = known.get(id)
    known.delete(id)
    if (!was) says.push(`${name} has joined and ${may[role]}.`)
    else if (was.role !== role) says.push(`${name} ${may[role]} now.`)
  }
  for (const { name } of known.values()) says.push(`${name} has left.`)
  return says
}
