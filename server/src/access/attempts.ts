// How often a PIN may be tried: by one address and by all together, each miss making the next wait longer.

import type { KeptAttempts, Misses } from '@glowchart/shared/access/kept.ts'

interface Limit {
  /** Tries that wait for nothing. */
  readonly free: number
  /** The longest wait, ms. */
  readonly longest: number
}
const ADDRESS: Limit = { free: 5, longest: 15 * 60_000 }
/**
 * All together wait less: whoever guesses from many addresses must not lock the band out for long. At one try in 30 s a
 * PIN of eight digits stands 2880 in 10⁸ a day.
 */
const ALL: Limit = { free: 20, longest: 30_000 }
/** Misses are forgotten when there was none for so long, ms. */
const FORGOTTEN = 60 * 60_000
/** Addresses that are remembered; beyond them the one that missed longest ago goes. */
const MOST_ADDRESSES = 1000

export interface Attempts {
  /**
   * Counts a try, as a miss until it is said to be right: tries at the same moment count too.
   * @returns 0, or the ms after which the next may be made: this one is not to be looked at
   */
  take(address: string): number
  /** The try counted last by this address was right. */
  right(address: string): void
  clear(): void
  readonly state: KeptAttempts
}

/** @param now ms since 1970: the waits outlast a restart. A clock that is set back makes none longer */
export function attempts(now: () => number, kept: KeptAttempts | null): Attempts {
  const none = (): Misses => ({ count: 0, last: 0 })
  let all = kept?.all ?? none()
  let byAddress = new Map(Object.entries(kept?.byAddress ?? {}))

  const fresh = (misses: Misses | undefined, at: number): Misses => {
    if (!misses || at - misses.last > FORGOTTEN) return none()
    return { ...misses, last: Math.min(misses.last, at) }
  }
  const wait = ({ count, last }: Misses, { free, longest }: Limit, at: number): number =>
    count < free ? 0 : Math.max(0, last + Math.min(longest, 1000 * 2 ** (count - free)) - at)

  return {
    take(address) {
      const at = now()
      const mine = fresh(byAddress.get(address), at)
      all = fresh(all, at)
      const waits = Math.max(wait(mine, ADDRESS, at), wait(all, ALL, at))
      if (waits > 0) {
        // In the clock's new time, should it have been set back.
        if (mine.count > 0) byAddress.set(address, mine)
        return waits
      }
      all = { count: all.count + 1, last: at }
      // Put at the end: the map is in the order of the last miss.
      byAddress.delete(address)
      byAddress.set(address, { count: mine.count + 1, last: at })
      const [oldest] = byAddress.keys()
      if (byAddress.size > MOST_ADDRESSES) byAddress.delete(oldest!)
      return 0
    },
    right(address) {
      all = { ...all, count: Math.max(0, all.count - 1) }
      byAddress.delete(address)
    },
    clear() {
      all = none()
      byAddress = new Map()
    },
    get state() {
      return { all, byAddress: Object.fromEntries(byAddress) }
    },
  }
}
