// How a version is named on the page: its number, when it was published, and the beginning of its hash.

import type { VersionEntry } from '@glowchart/shared/version/request.ts'

/** “19:42” today, “24 Nov 19:42” before. @param now ms since 1970 */
export function timeOf({ at }: Pick<VersionEntry, 'at'>, now = Date.now()): string {
  const then = new Date(at)
  const time = then.toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', hour12: false })
  if (then.toDateString() === new Date(now).toDateString()) return time
  return `${then.toLocaleDateString('en-GB', { day: 'numeric', month: 'short' })} ${time}`
}

/** Enough to compare by eye with another computer's. */
export const shortHash = ({ hash }: Pick<VersionEntry, 'hash'>): string => hash.slice(0, 8)

export const pendingWords = (count: number): string =>
  count === 0 ? 'nothing changed since' : count === 1 ? '1 change not in it' : `${count} changes not in it`
