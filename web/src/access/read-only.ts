// Whether edits and presses here would be refused, as this laptop follows another one: known beforehand, with the reason.

import { useSession } from '../document/session.ts'

type Session = ReturnType<typeof useSession.getState>

/** The laptop that is followed; null: none is. */
const followedIn = ({ status }: Session): string | null =>
  status?.understudy.state === 'follows' ? (status.understudy.partner?.name ?? 'another laptop') : null

export const useFollowed = (): string | null => useSession(followedIn)
export const followedNow = (): string | null => followedIn(useSession.getState())

/** Why, and how to get the controls. */
export const readOnlyWords = (followed: string): string =>
  `Read only: this laptop follows ${followed}. Edit there, or take over on Run.`
