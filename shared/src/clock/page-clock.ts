// A page's clock against the engine's: from pings there and back, the engine's time of a page's MIDI bytes.

/** One ping. Times in ms: `sent` and `received` on the page's clock, `engine` on the engine's when it answered. */
export interface Ping {
  readonly sent: number
  readonly engine: number
  readonly received: number
}

/** The pings of the last minute that may still be the best one. Plain data of bounded size. */
export interface PageClock {
  readonly pings: readonly Ping[]
}

export const pageClock: PageClock = { pings: [] }

const WINDOW_MS = 60_000
const MOST_PINGS = 32
/** How fast two clocks may drift apart: 100 ppm, a common bound for computer crystals (common practice, no source). */
const DRIFT = 1e-4

/** Takes a ping; one that was answered before it was sent, or is no number, is not heard. */
export function pinged(clock: PageClock, ping: Ping): PageClock {
  const trip = ping.received - ping.sent
  if (!(trip >= 0) || !Number.isFinite(ping.engine)) return clock
  const fresh = clock.pings.filter(({ received }) => ping.received - received < WINDOW_MS)
  return { pings: [...fresh, ping].slice(-MOST_PINGS) }
}

/**
 * The engine's time of a moment on the page's clock; null before the first ping. The offset is that of the ping that
 * can be least wrong: by half its round trip (the answer came some time within it), and by the drift since.
 */
export function engineTime(clock: PageClock, page: number): number | null {
  let best: Ping | null = null
  let least = Number.POSITIVE_INFINITY
  for (const ping of clock.pings) {
    const wrong = (ping.received - ping.sent) / 2 + Math.abs(page - ping.received) * DRIFT
    if (wrong < least) {
      least = wrong
      best = ping
    }
  }
  return best && page + best.engine - (best.sent + best.received) / 2
}
