// Whether this page only looks on: what its role lets it do, known here so that it offers nothing that would be refused.

import { leastRoleFor } from '@glowchart/shared/access/least-role.ts'
import { isAtLeast } from '@glowchart/shared/access/role.ts'
import type { PageMessage } from '@glowchart/shared/messages.ts'
import { useSession } from '../document/session.ts'

export const LOOKS_ON = 'You look on. The controls are given at the laptop.'

/** Whether the controls of the show do nothing on this page. */
export const useLooksOn = (): boolean => useSession(({ role }) => !isAtLeast(role, 'controller'))

/** Whether the server would take such a message of this page. */
export const may = (message: { type: PageMessage['type']; edit?: string }): boolean =>
  isAtLeast(useSession.getState().role, leastRoleFor(message))
