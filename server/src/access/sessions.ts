// Guests who have joined: each known by a token that only their browser has, with what they may do.

import { createHash, randomBytes } from 'node:crypto'
import type { Guest } from '@glowchart/shared/access/kept.ts'
import { CodedError } from '@glowchart/shared/errors.ts'

/** A session ends so long after joining, ms: a weekend of shows. */
const LASTS = 4 * 24 * 3_600_000
const MOST_GUESTS = 60

export interface Sessions {
  readonly guests: readonly Guest[]
  /** A new guest, who looks on. @returns the token, for them alone @throws CodedError `access.full` */
  add(name: string, address: string): string
  /** The guest of a token; null for any other and for one that has ended. */
  find(token: string): Guest | null
  /** Whether their session goes on. */
  lives(guest: Guest): boolean
  /** @throws CodedError `access.guest` */
  byId(id: string): Guest
  remove(guest: Guest): void
  clear(): void
}

/** @param now ms since 1970 */
export function sessions(now: () => number, kept: readonly Guest[]): Sessions {
  const byToken = new Map(kept.map(guest => [guest.token, guest]))
  const lasts = ({ joined }: Guest): boolean => Math.abs(now() - joined) < LASTS
  const sweep = (): void => {
    for (const guest of byToken.values()) if (!lasts(guest)) byToken.delete(guest.token)
  }
  return {
    get guests() {
      return [...byToken.values()]
    },
    add(name, address) {
      sweep()
      if (byToken.size >= MOST_GUESTS) {
        throw new CodedError('access.full', `${MOST_GUESTS} have joined already`, 'join')
      }
      const token = randomBytes(32).toString('base64url')
      const guest: Guest = {
        id: `guest-${randomBytes(6).toString('hex')}`,
        token: hashOf(token),
        name,
        role: 'viewer',
        address,
        joined: now(),
      }
      byToken.set(guest.token, guest)
      return token
    },
    find(token) {
      const guest = byToken.get(hashOf(token))
      return guest && lasts(guest) ? guest : null
    },
    lives: guest => byToken.get(guest.token) === guest && lasts(guest),
    byId(id) {
      const guest = [...byToken.values()].find(one => one.id === id)
      if (!guest) throw new CodedError('access.guest', 'there is no such guest', id)
      return guest
    },
    remove: guest => void byToken.delete(guest.token),
    clear: () => byToken.clear(),
  }
}

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex')
